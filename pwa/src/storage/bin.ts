/** The bin: records that were put away by a mark; everything in them is still there. */
import type { Edit, State } from "../domain/change.ts";
import type { RecordOf, TableName } from "../domain/contract.ts";
import { isTable, read } from "../domain/read.ts";
import { readStores } from "./db.ts";
import { keep } from "./keep.ts";
import { binnedNames, boat } from "./memory.ts";
import { heldRows } from "./records.ts";

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
export async function binned<T extends TableName>(table: T): Promise<readonly Binned<T>[]> {
	// A screen asks for all tables at once.
	if (!reading) {
		reading = allBinned();
		queueMicrotask(() => {
			reading = null;
		});
	}
	return ((await reading).get(table) ?? []) as readonly Binned<T>[];
}

let reading: Promise<ReadonlyMap<TableName, readonly Binned[]>> | null = null;

async function allBinned(): Promise<ReadonlyMap<TableName, readonly Binned[]>> {
	const of = boat.key.value;
	if (of === null) return new Map();
	const names = binnedNames();
	const rows = await readStores(["record", "block"], (tx) => heldRows(tx, of, names));
	const found = new Map<TableName, Binned[]>();
	for (const row of [...rows.values()].sort((a, b) => (stampOf(a) < stampOf(b) ? 1 : -1))) {
		if (!isTable(row.table)) continue;
		const ofTable = found.get(row.table) ?? [];
		ofTable.push(binnedOf(row.table, row));
		found.set(row.table, ofTable);
	}
	return found;
}

function binnedOf(table: TableName, { key, values, versions }: State & { key: string }): Binned {
	const [stamp = "", device = ""] = versions.binned ?? [];
	const record = read(table, key, { ...values, binned: null });
	return { table, key, record, device, at: Number.parseInt(stamp.slice(0, 12), 16) };
}

function stampOf({ versions }: State): string {
	return versions.binned?.[0] ?? "";
}

/** Take a record out of the bin. Throws StorageFault. */
export function restore(table: TableName, key: string): Promise<void> {
	// Every table has the field; the compiler follows a union of this many tables no further.
	const edit = { table, key, set: { binned: false } } as Edit;
	return keep([edit]);
}
