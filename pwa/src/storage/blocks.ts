/** Records as they came in a snapshot: stored by the hundred, read for one or for all. */
import type { State, Version } from "../domain/change.ts";
import { isBinned } from "../domain/merge.ts";
import type { PackedRecord, ReadTx, RecordRow, WriteTx } from "./db.ts";

const IN_A_BLOCK = 200;

type Name = Pick<RecordRow, "table" | "key">;

/** A record as it is shown. */
export interface Seen extends Name {
	readonly values: State["values"];
	readonly binned: boolean;
}

export function nameOf({ table, key }: Name): string {
	return `${table}/${key}`;
}

/** Store a page of a snapshot in a transaction of the caller; a page stored twice is the same. */
export async function putBlocks(
	tx: WriteTx,
	boat: string,
	page: number,
	records: readonly PackedRecord[],
): Promise<void> {
	const sorted = inOrder(records);
	const puts: Promise<unknown>[] = [];
	for (let at = 0; at < sorted.length; at += IN_A_BLOCK) {
		const some = sorted.slice(at, at + IN_A_BLOCK);
		const [table = "", key = ""] = some[0] ?? [];
		const first = nameOf({ table, key });
		puts.push(tx.objectStore("block").put({ boat, page, first, records: some }));
	}
	await Promise.all(puts);
}

/** What the blocks hold of these records, by name; each block is read once. */
export async function statesInBlocks(
	tx: ReadTx,
	boat: string,
	names: readonly string[],
): Promise<Map<string, State>> {
	const found = new Map<string, State>();
	if (names.length === 0) return found;
	const store = tx.objectStore("block");
	const keys = await store.getAllKeys(rangeOf(boat));
	const wanted = new Set(names);
	const blocks = await Promise.all(blocksWith(keys, names).map((key) => store.get(key)));
	for (const block of blocks) {
		for (const record of block?.records ?? []) {
			const name = nameOf({ table: record[0], key: record[1] });
			if (wanted.has(name)) found.set(name, stateOf(record));
		}
	}
	return found;
}

/** True if this phone holds anything of the boat. */
export async function holdsAny(tx: ReadTx, boat: string): Promise<boolean> {
	const row = await tx.objectStore("record").getKey(IDBKeyRange.bound([boat], [boat, []]));
	return row !== undefined || (await tx.objectStore("block").getKey(rangeOf(boat))) !== undefined;
}

/** Every record of a boat, binned ones too: rows stand before blocks. */
export async function allStates(tx: ReadTx, boat: string): Promise<(Name & State)[]> {
	const [rows, packed] = await readAll(tx, boat);
	return [...rows, ...packed.map((record) => ({ ...nameIn(record), ...stateOf(record) }))];
}

/** All for showing, without the versions that only merging needs. */
export async function allSeen(tx: ReadTx, boat: string): Promise<Seen[]> {
	const [rows, packed] = await readAll(tx, boat);
	return [...rows.map(seen), ...packed.map(seenInBlock)];
}

export function seen(row: Name & State): Seen {
	const { table, key, values } = row;
	return { table, key, values, binned: isBinned(row) };
}

export function seenInBlock(record: PackedRecord): Seen {
	const [table, key, values] = record;
	return { table, key, values, binned: values.binned === true && isBinned(stateOf(record)) };
}

export function stateOf([, , values, versions]: PackedRecord): State {
	if (!isOne(versions)) return { values, versions };
	return {
		values,
		versions: Object.fromEntries(Object.keys(values).map((field) => [field, versions])),
	};
}

async function readAll(
	tx: ReadTx,
	boat: string,
): Promise<[rows: RecordRow[], packed: PackedRecord[]]> {
	const [rows, blocks] = await Promise.all([
		tx.objectStore("record").getAll(rangeOf(boat)),
		tx.objectStore("block").getAll(rangeOf(boat)),
	]);
	const newer = new Set(rows.map(nameOf));
	const packed = blocks
		.flatMap(({ records }) => records)
		.filter((record) => newer.size === 0 || !newer.has(nameOf(nameIn(record))));
	return [rows, packed];
}

/** The keys of the blocks that may hold these records: in each page, the last one not after it. */
function blocksWith(
	keys: readonly [string, number, string][],
	names: readonly string[],
): [string, number, string][] {
	const found = new Set<[string, number, string]>();
	for (const number of new Set(keys.map(([, page]) => page))) {
		const ofPage = keys.filter(([, page]) => page === number);
		for (const name of names) {
			const key = ofPage.findLast(([, , first]) => first <= name);
			if (key) found.add(key);
		}
	}
	return [...found];
}

/** In order of name, as text; databases order text in more than one way. */
function inOrder(records: readonly PackedRecord[]): readonly PackedRecord[] {
	const named = records.map((record): [string, PackedRecord] => [nameOf(nameIn(record)), record]);
	const ordered = named.every(([name], at) => at === 0 || (named[at - 1]?.[0] ?? "") < name);
	if (ordered) return records;
	return named.sort(([a], [b]) => (a < b ? -1 : 1)).map(([, record]) => record);
}

function nameIn([table, key]: PackedRecord): Name {
	return { table, key };
}

function isOne(versions: PackedRecord[3]): versions is Version {
	return Array.isArray(versions);
}

function rangeOf(boat: string): IDBKeyRange {
	return IDBKeyRange.bound([boat], [boat, []]);
}
