/** The few single values that the phone keeps, each under one name and with one type. */
import type { RulesForPhone } from "../domain/rules.ts";
import { type ReadTx, readStores, type WriteTx, writeStores } from "./db.ts";
import { StorageFull } from "./faults.ts";
import type { Marker } from "./marker.ts";

export interface KeptSession {
	readonly paired: boolean;
	readonly device_name: string;
	readonly server: string | null;
	readonly boats: readonly { readonly key: string; readonly name: string }[];
	/** What the server last said it has; absent before it did. */
	readonly received?: Received;
}

/** What the server has of this phone's changes, by their running numbers, and who else has it. */
export interface Received {
	/** The highest number that has arrived. */
	readonly last: number;
	/** Up to this one none is missing. */
	readonly completeTo: number;
	/** How many below the highest are missing: they were refused, or never arrived. */
	readonly missing: number;
	/** For each boat the other phone that has most of it; `whole` if it had all up to `last`. */
	readonly copies: readonly SecondCopy[];
}

export interface SecondCopy {
	readonly boat: string;
	readonly name: string;
	/** ISO 8601. */
	readonly last_seen: string;
	readonly whole: boolean;
}

/** What the person has set on this phone. */
export interface KeptSettings {
	/** `wifi`: photographs wait while the phone says that its line costs money. */
	readonly sendPhotosOn: "any" | "wifi";
	/** Fetch every photograph in full, and not only small copies, as far as the budget goes. */
	readonly keepAll: boolean;
	/** Room for full photographs that the server has too, in MB (1,000,000 bytes), 0 to 100,000. */
	readonly budgetMb: number;
}

export interface Meta {
	/** UUID of this phone, made at its first start and kept through every pairing. */
	device: string;
	/** The last stamp given or seen. */
	clock: string;
	/** The last running number given to a change of this phone. */
	seq: number;
	/** Server time minus phone time, in milliseconds, as last measured. */
	clock_offset_ms: number;
	/** The boat that the person works on. */
	boat: string;
	session: KeptSession;
	/** The server's own mark; it changes when the server was restored from a backup. */
	epoch: string;
	/** The last of others' changes that was offered to a restored server; absent when all were. */
	offered_to: string;
	/** The key of the last block that was restated to it; absent when all were. */
	restated_to: readonly (string | number)[];
	last_synced_at: number;
	/** Digests of photographs of which this phone has only what another sent ahead. */
	previews: readonly string[];
	settings: Partial<KeptSettings>;
	/** What the browser had cleared, until the person has read it. */
	lost: Marker;
	rules: { readonly etag: string; readonly rules: RulesForPhone };
}

type MetaName = keyof Meta;

/** How far the boat's log has been read: a cursor of the server, 0 before the first pull. */
const cursorName = (boat: string): string => `cursor/${boat}`;
const lastName = (boat: string): string => `last/${boat}`;

export async function getMeta<N extends MetaName>(
	tx: ReadTx,
	name: N,
): Promise<Meta[N] | undefined> {
	return (await tx.objectStore("meta").get(name)) as Meta[N] | undefined;
}

export async function putMeta<N extends MetaName>(
	tx: WriteTx,
	name: N,
	value: Meta[N],
): Promise<void> {
	await tx.objectStore("meta").put(value, name);
}

export async function getCursor(tx: ReadTx, boat: string): Promise<number> {
	return ((await tx.objectStore("meta").get(cursorName(boat))) as number | undefined) ?? 0;
}

/** `last` is the id of the change at `cursor`, by which the server knows that it is its log. */
export async function putCursor(
	tx: WriteTx,
	boat: string,
	cursor: number,
	last: string | null,
): Promise<void> {
	await tx.objectStore("meta").put(cursor, cursorName(boat));
	if (last === null) await tx.objectStore("meta").delete(lastName(boat));
	else await tx.objectStore("meta").put(last, lastName(boat));
}

/** The id of the change at the boat's cursor; null where it was not told. */
export async function getLast(tx: ReadTx, boat: string): Promise<string | null> {
	return ((await tx.objectStore("meta").get(lastName(boat))) as string | undefined) ?? null;
}

/** How far a first pull has come: the cursor of its first page, and where the next one starts. */
export interface SnapshotPlace {
	readonly cursor: number;
	readonly last: string | null;
	readonly page: number;
	/** The name of the last record received; empty at the start. */
	readonly after: string;
}

const placeName = (boat: string): string => `snapshot/${boat}`;

export async function getSnapshotPlace(
	tx: ReadTx,
	boat: string,
): Promise<SnapshotPlace | undefined> {
	return (await tx.objectStore("meta").get(placeName(boat))) as SnapshotPlace | undefined;
}

export async function putSnapshotPlace(
	tx: WriteTx,
	boat: string,
	place: SnapshotPlace,
): Promise<void> {
	await tx.objectStore("meta").put(place, placeName(boat));
}

export async function dropSnapshotPlace(tx: WriteTx, boat: string): Promise<void> {
	await tx.objectStore("meta").delete(placeName(boat));
}

/** Read every boat from its beginning again, in a transaction of the caller. */
export async function dropAllCursors(tx: WriteTx): Promise<void> {
	await tx.objectStore("meta").delete(IDBKeyRange.bound("cursor/", "cursor/\uffff"));
	await tx.objectStore("meta").delete(IDBKeyRange.bound("last/", "last/\uffff"));
	await tx.objectStore("meta").delete(IDBKeyRange.bound("snapshot/", "snapshot/\uffff"));
}

export function readMeta<N extends MetaName>(name: N): Promise<Meta[N] | undefined> {
	return readStores(["meta"], (tx) => getMeta(tx, name));
}

export function writeMeta<N extends MetaName>(name: N, value: Meta[N]): Promise<void> {
	return writeStores(["meta"], (tx) => putMeta(tx, name, value));
}

/**
 * Write what is good to know but can be done without. A full phone lets it pass: it must still
 * open, and send, because sending is what makes room.
 */
export async function noteMeta<N extends MetaName>(name: N, value: Meta[N]): Promise<void> {
	try {
		await writeMeta(name, value);
	} catch (error) {
		if (!(error instanceof StorageFull)) throw error;
	}
}
