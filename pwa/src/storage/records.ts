/** Changes into records, inside a transaction that somebody else opened. */
import type { Change } from "../domain/change.ts";
import { EMPTY, fold, merge } from "../domain/merge.ts";
import type { RecordRow, WriteTx } from "./db.ts";

type Named = Pick<RecordRow, "boat" | "table" | "key">;

/**
 * Store changes in the log and merge them into their records; the rows of those records after it.
 *
 * If a change is already in the log with another stamp, the server has corrected it (a phone
 * whose clock was wrong), and its record is made again from all its changes. All reads go out
 * together, then all writes: one at a time, a large boat would take minutes to arrive.
 */
export async function applyChanges(
	tx: WriteTx,
	boat: string,
	changes: readonly Change[],
): Promise<RecordRow[]> {
	const log = tx.objectStore("change");
	const known = await Promise.all(changes.map(({ id }) => log.get(id)));
	await Promise.all(changes.map((change) => log.put({ ...change, boat })));
	const rows = await heldRows(tx, boat, changes);
	const corrected = new Set<string>();
	changes.forEach((change, at) => {
		const name = nameOf(change);
		const before = known[at];
		if (before && before.stamp !== change.stamp) corrected.add(name);
		const row = rows.get(name);
		if (row) rows.set(name, { ...row, ...merge(row, change) });
	});
	for (const name of corrected) {
		const row = rows.get(name);
		if (row) rows.set(name, await rebuilt(tx, row));
	}
	await Promise.all([...rows.values()].map((row) => tx.objectStore("record").put(row)));
	return [...rows.values()];
}

/** Take a change out of the log and out of its record; the record's row after it. */
export async function withdrawChange(tx: WriteTx, id: string): Promise<RecordRow | null> {
	const log = tx.objectStore("change");
	const row = await log.get(id);
	if (!row) return null;
	await log.delete(id);
	const without = await rebuilt(tx, row);
	await tx.objectStore("record").put(without);
	return without;
}

/** The rows of the records that `changes` are about, empty where there is none yet. */
async function heldRows(
	tx: WriteTx,
	boat: string,
	changes: readonly Change[],
): Promise<Map<string, RecordRow>> {
	const records = tx.objectStore("record");
	const about = new Map(changes.map((change) => [nameOf(change), change]));
	const rows = await Promise.all(
		[...about].map(async ([name, { table, key }]): Promise<[string, RecordRow]> => {
			const held = await records.get([boat, table, key]);
			return [name, held ?? { boat, table, key, ...EMPTY }];
		}),
	);
	return new Map(rows);
}

async function rebuilt(tx: WriteTx, { boat, table, key }: Named): Promise<RecordRow> {
	const all = await tx.objectStore("change").index("record").getAll([boat, table, key]);
	return { boat, table, key, ...fold(all) };
}

function nameOf({ table, key }: Pick<Named, "table" | "key">): string {
	return `${table}/${key}`;
}
