/** Changes into records, inside a transaction that somebody else opened. */
import { type Change, type State, versionOf } from "../domain/change.ts";
import { EMPTY, fold, merge } from "../domain/merge.ts";
import { nameOf, statesInBlocks } from "./blocks.ts";
import type { ReadTx, RecordRow, StoreName, WriteTx } from "./db.ts";

type Named = Pick<RecordRow, "boat" | "table" | "key">;

/** The stores that a transaction needs for what is below. */
export const RECORD_STORES: readonly StoreName[] = ["record", "block", "change"];

/**
 * Store changes in the log and merge them into their records; the rows of those records after it.
 *
 * If a value stands by the same change with another stamp, the server has corrected it (a phone
 * whose clock was wrong), and its record is made again from all its changes. All reads go out
 * together, then all writes: one at a time, a large boat would take minutes to arrive.
 */
export async function applyChanges(
	tx: WriteTx,
	boat: string,
	changes: readonly Change[],
): Promise<RecordRow[]> {
	const log = tx.objectStore("change");
	const rows = await heldRows(tx, boat, changes);
	const writes: Promise<unknown>[] = changes.map((change) => log.put({ ...change, boat }));
	const corrected = new Set<string>();
	for (const change of changes) {
		const name = nameOf(change);
		const row = rows.get(name);
		if (!row) continue;
		if (hasOtherStamp(row, change)) corrected.add(name);
		rows.set(name, { ...row, ...merge(row, change) });
	}
	for (const name of corrected) {
		const row = rows.get(name);
		if (row) rows.set(name, await rebuilt(tx, row));
	}
	writes.push(...[...rows.values()].map((row) => tx.objectStore("record").put(row)));
	await Promise.all(writes);
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

/** Make the rows of a boat again that lie over these records, because a snapshot brought them. */
export async function rebuildOver(
	tx: WriteTx,
	boat: string,
	records: readonly Pick<Named, "table" | "key">[],
): Promise<RecordRow[]> {
	const held = await tx.objectStore("record").getAllKeys(IDBKeyRange.bound([boat], [boat, []]));
	if (held.length === 0) return [];
	const brought = new Set(records.map(nameOf));
	const rows: RecordRow[] = [];
	for (const [, table, key] of held) {
		if (!brought.has(nameOf({ table, key }))) continue;
		const row = await rebuilt(tx, { boat, table, key });
		await tx.objectStore("record").put(row);
		rows.push(row);
	}
	return rows;
}

/** The rows of the records that `changes` are about, empty where there is none yet. */
export async function heldRows(
	tx: ReadTx,
	boat: string,
	changes: readonly Pick<Named, "table" | "key">[],
): Promise<Map<string, RecordRow>> {
	const records = tx.objectStore("record");
	const about = [...new Map(changes.map((change) => [nameOf(change), change])).entries()];
	const held = await Promise.all(
		about.map(([, { table, key }]) => records.get([boat, table, key])),
	);
	const missing = about.filter((_, at) => !held[at]).map(([name]) => name);
	const inBlocks = await statesInBlocks(tx, boat, missing);
	return new Map(
		about.map(([name, { table, key }], at): [string, RecordRow] => [
			name,
			held[at] ?? { boat, table, key, ...(inBlocks.get(name) ?? EMPTY) },
		]),
	);
}

/** True if a value stands by this very change, but with another stamp. */
function hasOtherStamp({ versions }: RecordRow, change: Change): boolean {
	const [stamp, , id] = versionOf(change);
	return Object.keys(change.set).some((field) => {
		const held = versions[field];
		return held?.[2] === id && held[0] !== stamp;
	});
}

/**
 * From what a snapshot brought of it, if anything, and every change in the log. Where both have
 * the same change, the log's stamp is the one that everybody has.
 */
async function rebuilt(tx: WriteTx, { boat, table, key }: Named): Promise<RecordRow> {
	const name = nameOf({ table, key });
	const base = (await statesInBlocks(tx, boat, [name])).get(name) ?? EMPTY;
	const all = await tx.objectStore("change").index("record").getAll([boat, table, key]);
	return { boat, table, key, ...fold(all, without(base, all)) };
}

function without(base: State, changes: readonly Change[]): State {
	const told = new Set(
		changes.flatMap((change) =>
			Object.keys(change.set).map((field) => `${versionOf(change)[2]} ${field}`),
		),
	);
	const left = Object.entries(base.versions).filter(
		([field, [, , id]]) => !told.has(`${id} ${field}`),
	);
	const values = left.map(([field]) => [field, base.values[field] ?? null]);
	return { values: Object.fromEntries(values), versions: Object.fromEntries(left) };
}
