/**
 * The records of the chosen boat in memory, one signal a table, each a map by key.
 *
 * Only what is in the database is put here. Binned records are left out.
 */
import { type ReadonlySignal, type Signal, signal } from "@preact/signals";
import type { RecordOf, TableName } from "../domain/contract.ts";
import { SHAPES } from "../domain/fields.ts";
import { isBinned } from "../domain/merge.ts";
import { isTable, read } from "../domain/read.ts";
import { type RecordRow, readStores } from "./db.ts";
import type { RowName } from "./tabs.ts";

type AnyMap = ReadonlyMap<string, RecordOf<TableName>>;

const EMPTY: AnyMap = new Map();
const chosen = signal<string | null>(null);
const tables = new Map<TableName, Signal<AnyMap>>(
	(Object.keys(SHAPES) as TableName[]).map((table) => [table, signal(EMPTY)]),
);

export const boat = {
	/** The key of the boat that the person works on; null before one was chosen. */
	key: chosen as ReadonlySignal<string | null>,
	/** All records of a table that are not in the bin, by key. */
	table<T extends TableName>(table: T): ReadonlySignal<ReadonlyMap<string, RecordOf<T>>> {
		return tables.get(table) as unknown as ReadonlySignal<ReadonlyMap<string, RecordOf<T>>>;
	},
};

/** Put rows that are now in the database into memory too. */
export function showRows(rows: readonly RecordRow[]): void {
	for (const [table, changed] of byTable(rows.filter((row) => row.boat === chosen.value))) {
		const held = tables.get(table);
		if (!held) continue;
		const next = new Map(held.value);
		for (const row of changed) put(next, table, row);
		held.value = next;
	}
}

/** Show the boat `key`, from the database. Throws StorageLost. */
export async function show(key: string): Promise<void> {
	const rows = await readStores(["record"], (tx) =>
		tx.objectStore("record").getAll(IDBKeyRange.bound([key], [key, []])),
	);
	chosen.value = key;
	const found = byTable(rows);
	for (const [table, held] of tables) {
		const next = new Map<string, RecordOf<TableName>>();
		for (const row of found.get(table) ?? []) put(next, table, row);
		held.value = next;
	}
}

/** Read rows that another page has written. */
export async function rereadRows(names: readonly RowName[]): Promise<void> {
	const of = chosen.value;
	if (of === null) return;
	const rows = await readStores(["record"], (tx) =>
		Promise.all(names.map(([table, key]) => tx.objectStore("record").get([of, table, key]))),
	);
	showRows(rows.filter((row) => row !== undefined));
}

function put(into: Map<string, RecordOf<TableName>>, table: TableName, row: RecordRow): void {
	if (isBinned(row)) into.delete(row.key);
	else into.set(row.key, read(table, row.key, { ...row.values, binned: null }));
}

function byTable(rows: readonly RecordRow[]): Map<TableName, RecordRow[]> {
	const found = new Map<TableName, RecordRow[]>();
	for (const row of rows) {
		if (!isTable(row.table)) continue;
		const list = found.get(row.table);
		if (list) list.push(row);
		else found.set(row.table, [row]);
	}
	return found;
}
