/** Values that two phones wrote without sight of each other, for a person to settle. */
import { type ReadonlySignal, signal } from "@preact/signals";
import type { JsonValue } from "../domain/contract.ts";
import { readStores, writeStores } from "../storage/db.ts";
import { boat } from "../storage/memory.ts";
import { getCursor } from "../storage/meta.ts";
import { call } from "./http.ts";

export interface ClashSide {
	readonly value: JsonValue;
	readonly stamp: string;
	readonly device: string;
	/** The change that wrote it. */
	readonly change?: string;
}

export interface Clash {
	readonly table: string;
	readonly key: string;
	readonly field: string;
	readonly kept: ClashSide;
	readonly lost: ClashSide;
	readonly cursor: number;
}

const NAME = "clashes";

const held = signal<readonly Clash[]>([]);

/** Open clashes of the chosen boat as last heard, without those settled on this phone since. */
export const openClashes: ReadonlySignal<readonly Clash[]> = held;

/** The chosen boat's clashes as they were heard last; for the start and another boat. */
export async function loadClashes(): Promise<void> {
	const of = boat.key.value;
	const row =
		of === null ? null : await readStores(["list"], (tx) => tx.objectStore("list").get([of, NAME]));
	await show(of, (row?.list as readonly Clash[] | undefined) ?? []);
}

/**
 * Ask the server for the open clashes of the chosen boat, if anything was received since the last
 * time. Throws SyncTrouble, StorageFault.
 */
export async function refreshClashes(): Promise<void> {
	const of = boat.key.value;
	if (of === null) return;
	const [cursor, last] = await readStores(["meta", "list"], (tx) =>
		Promise.all([getCursor(tx, of), tx.objectStore("list").get([of, NAME])]),
	);
	// Clashes come and go with changes only.
	if (last?.cursor === cursor) return show(of, last.list as readonly Clash[]);
	const found = await call<Clash[]>(`/api/boats/${encodeURIComponent(of)}/clashes`);
	// What this phone has not received yet, a person here can't settle: their choice would clash.
	const list = found.filter((clash) => clash.cursor <= cursor);
	await writeStores(["list"], async (tx) => {
		await tx.objectStore("list").put({ boat: of, name: NAME, list, cursor, made_at: "" });
	});
	await show(of, list);
}

/** Leave out what a change that still waits here settles, and show the rest. */
async function show(of: string | null, list: readonly Clash[]): Promise<void> {
	const open = list.length === 0 || of === null ? list : await withoutSettled(list);
	if (boat.key.value === of) held.value = open;
}

async function withoutSettled(list: readonly Clash[]): Promise<readonly Clash[]> {
	const rows = await readStores(["outbox"], (tx) => tx.objectStore("outbox").getAll());
	const waiting = rows.map(({ change }) => change);
	return list.filter(
		({ table, key, field, cursor }) =>
			!waiting.some(
				(change) =>
					change.table === table &&
					change.key === key &&
					change.base >= cursor &&
					Object.hasOwn(change.set, field),
			),
	);
}
