/** Changes into records, inside a transaction that somebody else opened. */
import type { Change } from "../domain/change.ts";
import { EMPTY, fold, merge } from "../domain/merge.ts";
import type { ChangeRow, RecordRow, WriteTx } from "./db.ts";

/** Stores that `applyChange` writes. */
export const RECORD_STORES = ["record", "change"] as const;

/**
 * Store a change in the log and merge it into its record; the record's row after it.
 *
 * If the change is already in the log with another stamp, the server has corrected it (a phone
 * whose clock was wrong), and the record is made again from all its changes.
 */
export async function applyChange(tx: WriteTx, boat: string, change: Change): Promise<RecordRow> {
	const log = tx.objectStore("change");
	const known = await log.get(change.id);
	const row: ChangeRow = { ...change, boat };
	await log.put(row);
	if (known && known.stamp !== change.stamp) return rebuild(tx, row);
	const held = await tx.objectStore("record").get([boat, change.table, change.key]);
	const state = merge(held ?? EMPTY, change);
	if (held && state === held) return held;
	return putRecord(tx, row, state);
}

/** Take a change out of the log and out of its record; the record's row after it. */
export async function withdrawChange(tx: WriteTx, id: string): Promise<RecordRow | null> {
	const log = tx.objectStore("change");
	const row = await log.get(id);
	if (!row) return null;
	await log.delete(id);
	return rebuild(tx, row);
}

async function rebuild(tx: WriteTx, of: ChangeRow): Promise<RecordRow> {
	const changes = tx.objectStore("change").index("record");
	const all = await changes.getAll([of.boat, of.table, of.key]);
	return putRecord(tx, of, fold(all));
}

async function putRecord(
	tx: WriteTx,
	{ boat, table, key }: ChangeRow,
	{ values, versions }: Pick<RecordRow, "values" | "versions">,
): Promise<RecordRow> {
	const row: RecordRow = { boat, table, key, values, versions };
	await tx.objectStore("record").put(row);
	return row;
}
