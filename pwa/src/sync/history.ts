/** The history of a record: what this phone holds, and the rest from the server. */
import type { Change } from "../domain/change.ts";
import type { TableName } from "../domain/contract.ts";
import { history } from "../storage/boat.ts";

export interface RecordHistory {
	/** Oldest first, by stamp. */
	readonly entries: readonly Change[];
	/** False when the server could not be asked for what this phone does not hold. */
	readonly complete: boolean;
}

/** Every change of a record of the chosen boat; never throws SyncTrouble. Throws StorageLost. */
export async function historyOf(table: TableName, key: string): Promise<RecordHistory> {
	return { entries: await history(table, key), complete: false };
}
