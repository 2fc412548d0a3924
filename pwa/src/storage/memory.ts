/**
 * The records of the chosen boat in memory, one signal a table, each a map by key.
 *
 * Only what is in the database is put here. Of binned records only the names are.
 */
import { type ReadonlySignal, type Signal, signal } from "@preact/signals";
import type { RecordOf, TableName } from "../domain/contract.ts";
import { madeFrom } from "../domain/differences.ts";
import { SHAPES } from "../domain/fields.ts";
import { isTable, read } from "../domain/read.ts";
import { allSeen, type Seen, seen } from "./blocks.ts";
import { type RecordRow, readStores } from "./db.ts";
import { getCursor } from "./meta.ts";
import type { RowName } from "./tabs.ts";

type AnyMap = ReadonlyMap<string, RecordOf<TableName>>;

const EMPTY: AnyMap = new Map();
const chosen = signal<string | null>(null);
const tables = new Map<TableName, Signal<AnyMap>>(
	(Object.keys(SHAPES) as TableName[]).map((table) => [table, signal(EMPTY)]),
);

/** Names of records in the bin, so that the bin is opened without reading the whole boat. */
const inBin = new Map<TableName, Set<string>>();

/** How many times the boat is being read whole, and what changed after one of them had begun. */
let opening = 0;
const meanwhile: RowName[] = [];
/** The cursor of the chosen boat up to which all is shown. */
let shownTo = 0;

export const boat = {
	/** The key of the boat that the person works on; null before one was chosen. */
	key: chosen as ReadonlySignal<string | null>,
	/** All records of a table that are not in the bin, by key. */
	table<T extends TableName>(table: T): ReadonlySignal<ReadonlyMap<string, RecordOf<T>>> {
		return tables.get(table) as unknown as ReadonlySignal<ReadonlyMap<string, RecordOf<T>>>;
	},
};

/** The names of all records of the boat that are in the bin. */
export function binnedNames(): { table: TableName; key: string }[] {
	return [...inBin].flatMap(([table, keys]) => [...keys].map((key) => ({ table, key })));
}

/** Put rows that are now in the database into memory too. */
export function showRows(rows: readonly RecordRow[]): void {
	const [first] = rows;
	if (first) showSeen(first.boat, rows.filter(({ boat }) => boat === first.boat).map(seen));
}

/** The same for records of the boat `of` in whatever form they came. */
export function showSeen(of: string, records: readonly Seen[]): void {
	if (opening > 0) meanwhile.push(...records.map(({ table, key }): RowName => [table, key]));
	if (of !== chosen.value) return;
	for (const [table, changed] of byTable(records)) {
		const held = tables.get(table);
		if (!held) continue;
		const next = new Map(held.value);
		for (const record of changed) put(next, table, record);
		madeFrom(
			next,
			held.value,
			changed.map(({ key }) => key),
		);
		held.value = next;
	}
}

/** Show the boat `key`, from the database. Throws StorageLost. */
export async function show(key: string): Promise<void> {
	opening += 1;
	try {
		await readWhole(key);
	} finally {
		opening -= 1;
	}
	if (opening === 0 && meanwhile.length > 0) await rereadRows(meanwhile.splice(0));
}

/** Note that what came between two cursors of a boat is shown, if all before it was. */
export function noteShown(of: string, from: number, to: number): void {
	if (of === chosen.value && from === shownTo) shownTo = to;
}

/**
 * Show what another page has stored of the chosen boat, and died before it could tell. Throws
 * StorageLost.
 */
export async function showMissed(): Promise<void> {
	const of = chosen.value;
	if (of === null || opening > 0) return;
	const cursor = await readStores(["meta"], (tx) => getCursor(tx, of));
	if (cursor !== shownTo) await show(of);
}

async function readWhole(key: string): Promise<void> {
	const [records, cursor] = await readStores(["record", "block", "meta"], (tx) =>
		Promise.all([allSeen(tx, key), getCursor(tx, key)]),
	);
	chosen.value = key;
	shownTo = cursor;
	inBin.clear();
	const found = byTable(records);
	for (const [table, held] of tables) {
		const next = new Map<string, RecordOf<TableName>>();
		for (const record of found.get(table) ?? []) put(next, table, record);
		held.value = next;
	}
}

/** Read rows that another page has written. */
export async function rereadRows(names: readonly RowName[]): Promise<void> {
	if (opening > 0) {
		meanwhile.push(...names);
		return;
	}
	const of = chosen.value;
	if (of === null) return;
	const rows = await readStores(["record"], (tx) =>
		Promise.all(names.map(([table, key]) => tx.objectStore("record").get([of, table, key]))),
	);
	showRows(rows.filter((row) => row !== undefined));
}

function put(into: Map<string, RecordOf<TableName>>, table: TableName, record: Seen): void {
	const { key, values, binned } = record;
	if (binned) {
		into.delete(key);
		inBin.set(table, (inBin.get(table) ?? new Set()).add(key));
		return;
	}
	inBin.get(table)?.delete(key);
	into.set(key, read(table, key, "binned" in values ? { ...values, binned: null } : values));
}

function byTable(records: readonly Seen[]): Map<TableName, Seen[]> {
	const found = new Map<TableName, Seen[]>();
	for (const record of records) {
		if (!isTable(record.table)) continue;
		const list = found.get(record.table);
		if (list) list.push(record);
		else found.set(record.table, [record]);
	}
	return found;
}
