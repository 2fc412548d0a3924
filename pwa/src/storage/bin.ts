/** The bin: records that were put away by a mark; everything in them is still there. */
import type { State } from "../domain/change.ts";
import type { RecordOf, TableName } from "../domain/contract.ts";
import { isBinned } from "../domain/merge.ts";
import { read } from "../domain/read.ts";
import { allStates } from "./blocks.ts";
import { readStores } from "./db.ts";
import { keep } from "./keep.ts";
import { boat } from "./memory.ts";

/** A record in the bin, who put it there and when. */
export interface Binned<T extends TableName = TableName> {
	readonly table: T;
	readonly key: string;
	readonly record: RecordOf<T>;
	readonly device: string;
	/** Milliseconds since 1970. */
	readonly at: number;
}

/** The binned records of a table of the chosen boat, last binned first. Throws StorageLost. */
export async function binned<T extends TableName>(table: T): Promise<Binned<T>[]> {
	const of = boat.key.value;
	if (of === null) return [];
	const rows = await readStores(["record", "block"], (tx) => allStates(tx, of, table));
	return rows
		.filter(isBinned)
		.sort((a, b) => (stampOf(a) < stampOf(b) ? 1 : -1))
		.map((row) => {
			const [stamp = "", device = ""] = row.versions.binned ?? [];
			const record = read(table, row.key, { ...row.values, binned: null });
			return { table, key: row.key, record, device, at: Number.parseInt(stamp.slice(0, 12), 16) };
		});
}

function stampOf({ versions }: State): string {
	return versions.binned?.[0] ?? "";
}

/** Take a record out of the bin. Throws StorageFault. */
export function restore(table: TableName, key: string): Promise<void> {
	return keep([{ table, key, set: { binned: false } }]);
}
