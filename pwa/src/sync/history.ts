/** The history of a record: what this phone holds, and the rest from the server. */
import type { Change } from "../domain/change.ts";
import type { TableName } from "../domain/contract.ts";
import { keepInLog, loggedHere } from "../storage/history.ts";
import { boat } from "../storage/memory.ts";
import { call } from "./http.ts";
import { SyncTrouble } from "./problem.ts";

export interface RecordHistory {
	/** Oldest first, by stamp. */
	readonly entries: readonly Change[];
	/** False when this phone lacks some and the server could not be asked. */
	readonly complete: boolean;
}

/**
 * Every change of a record of the chosen boat. Throws StorageFault only.
 *
 * What is older than this phone's first pull is asked from the server once, and then kept here.
 */
export async function historyOf(table: TableName, key: string): Promise<RecordHistory> {
	const of = boat.key.value;
	if (of === null) return { entries: [], complete: true };
	const here = await loggedHere(of, table, key);
	if (here.complete) return here;
	const changes = await askServer(of, table, key);
	if (changes === null) return here;
	await keepInLog(of, changes);
	return loggedHere(of, table, key);
}

async function askServer(of: string, table: string, key: string): Promise<Change[] | null> {
	const parts = [of, "records", table, key, "history"].map(encodeURIComponent);
	try {
		const answer = await call<{ changes?: unknown } | null>(`/api/boats/${parts.join("/")}`);
		if (!Array.isArray(answer?.changes)) return null;
		return answer.changes.map(withoutArrival);
	} catch (error) {
		if (error instanceof SyncTrouble) return null;
		throw error;
	}
}

function withoutArrival(entry: Change & { readonly received_ms?: number }): Change {
	const { received_ms: _, ...change } = entry;
	return change;
}
