/**
 * The boat that the person works on: its records for reading, and the one way to keep an edit.
 *
 * The screens use this file; what it offers lives in its neighbours.
 */
import type { Change } from "../domain/change.ts";
import type { TableName } from "../domain/contract.ts";
import { uuid7 } from "../domain/key.ts";
import { readStores } from "./db.ts";
import { boat, noteShown, rereadRows, show } from "./memory.ts";
import { getMeta, writeMeta } from "./meta.ts";
import { hearTabs, type RecordsMessage, tellTabs } from "./tabs.ts";

export type { Change, Edit } from "../domain/change.ts";
export type { RecordOf, TableName } from "../domain/contract.ts";
export { StorageFault, StorageFull, StorageLost, Unkeepable } from "./faults.ts";
export { keep, onKept } from "./keep.ts";
export { boat } from "./memory.ts";

/** A key for a new record. */
export function newKey(): string {
	return uuid7(Date.now());
}

/** Every change of a record that this phone knows, oldest first by stamp. */
export async function history(table: TableName, key: string): Promise<Change[]> {
	const of = boat.key.value;
	if (of === null) return [];
	const rows = await readStores(["change"], (tx) =>
		tx.objectStore("change").index("record").getAll([of, table, key]),
	);
	return rows.sort((a, b) => (a.stamp < b.stamp ? -1 : a.stamp > b.stamp ? 1 : 0));
}

/** Load the boat chosen last, if any; once, at start. Throws StorageLost. */
export async function loadBoat(): Promise<void> {
	hearTabs((message) => {
		if (message.kind === "records" && message.boat === boat.key.value) void hear(message);
		if (message.kind === "boat") void show(message.boat);
	});
	const key = await readStores(["meta"], (tx) => getMeta(tx, "boat"));
	if (key) await show(key);
}

async function hear({ boat, rows, pulled }: RecordsMessage): Promise<void> {
	await rereadRows(rows);
	if (pulled) noteShown(boat, ...pulled);
}

/** Work on this boat from now on. Throws StorageFull, StorageLost. */
export async function choose(key: string): Promise<void> {
	await writeMeta("boat", key);
	await show(key);
	tellTabs({ kind: "boat", boat: key });
}
