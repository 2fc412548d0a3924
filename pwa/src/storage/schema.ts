/** What is in the phone's database, and how it grew: each version is upgraded from every earlier. */
import type { DBSchema, IDBPDatabase, IDBPTransaction, StoreNames } from "idb";
import type { Change, State, Version } from "../domain/change.ts";
import type { JsonValue } from "../domain/contract.ts";

export const DB_VERSION = 2;

/** A record that this phone has written or received a change of; it stands before any block. */
export interface RecordRow extends State {
	readonly boat: string;
	readonly table: string;
	readonly key: string;
}

/** A record as it came in a snapshot: one version for all its fields, or one for each. */
export type PackedRecord = readonly [
	table: string,
	key: string,
	values: Readonly<Record<string, JsonValue>>,
	versions: Version | Readonly<Record<string, Version>>,
];

/**
 * Some hundred records of a snapshot in one row, in order of name; never written again.
 *
 * One row for each record would make the first pull of a large boat ten times slower.
 */
export interface BlockRow {
	readonly boat: string;
	/** Of the snapshot, from 0. */
	readonly page: number;
	/** The name (`table/key`) of its first record. */
	readonly first: string;
	readonly records: readonly PackedRecord[];
}

/** A change of this phone or of another; the log of a record is its history. */
export interface ChangeRow extends Change {
	readonly boat: string;
}

/** A change that the server has not acknowledged. */
export interface OutboxRow {
	readonly boat: string;
	readonly seq: number;
	readonly id: string;
	/** Milliseconds since 1970, by the phone's clock. */
	readonly at: number;
	/** As it is sent, so that a batch is one read. */
	readonly change: Change;
}

/** A change that the server refused, kept until the person has dealt with it. */
export interface RejectedRow {
	readonly id: string;
	readonly boat: string;
	readonly seq: number;
	readonly at: number;
	readonly title: string;
	readonly detail: string;
}

export interface PhotoRow {
	readonly sha256: string;
	readonly type: string;
	/** An ArrayBuffer, since some phones can't store a Blob (WebKit, seen up to iOS 18). */
	readonly bytes: ArrayBuffer;
	readonly at: number;
}

/** When a full photograph on this phone was last wanted, apart from its heavy bytes. */
export interface PhotoUseRow {
	readonly sha256: string;
	/** Bytes. */
	readonly size: number;
	readonly at: number;
}

export interface PhotoOutboxRow {
	readonly sha256: string;
	/** Bytes. */
	readonly size: number;
	/** Bytes of the small copy that goes ahead; absent once it has gone, and where there is none. */
	readonly preview?: number;
	readonly at: number;
	/** Why the server refused it, if it did. */
	readonly refused?: string;
}

export interface ListRow {
	readonly boat: string;
	readonly name: string;
	readonly list: unknown;
	readonly cursor: number;
	readonly made_at: string;
}

export interface Schema extends DBSchema {
	meta: { key: string; value: unknown };
	record: { key: [string, string, string]; value: RecordRow };
	block: { key: [string, number, string]; value: BlockRow };
	change: { key: string; value: ChangeRow; indexes: { record: [string, string, string] } };
	outbox: { key: [string, number]; value: OutboxRow; indexes: { at: number } };
	rejected: { key: string; value: RejectedRow };
	photo: { key: string; value: PhotoRow };
	photo_use: { key: string; value: PhotoUseRow; indexes: { at: number } };
	thumbnail: { key: string; value: { sha256: string; bytes: ArrayBuffer } };
	photo_outbox: { key: string; value: PhotoOutboxRow; indexes: { at: number } };
	list: { key: [string, string]; value: ListRow };
	tag: { key: string; value: { code: string; boat: string } };
}

type Db = IDBPDatabase<Schema>;
type UpgradeTx = IDBPTransaction<Schema, StoreNames<Schema>[], "versionchange">;

/** Bring a database of any released version up to this one; if it fails, the old one stays. */
export async function upgrade(db: Db, from: number, tx: UpgradeTx): Promise<void> {
	if (from < 1) createStores(db);
	else await from1To2(db, tx);
}

function createStores(db: Db): void {
	db.createObjectStore("meta");
	db.createObjectStore("record", { keyPath: ["boat", "table", "key"] });
	const change = db.createObjectStore("change", { keyPath: "id" });
	change.createIndex("record", ["boat", "table", "key"]);
	db.createObjectStore("rejected", { keyPath: "id" });
	db.createObjectStore("photo", { keyPath: "sha256" });
	db.createObjectStore("thumbnail", { keyPath: "sha256" });
	const photos = db.createObjectStore("photo_outbox", { keyPath: "sha256" });
	photos.createIndex("at", "at");
	db.createObjectStore("list", { keyPath: ["boat", "name"] });
	db.createObjectStore("tag", { keyPath: "code" });
	createStoresNewIn2(db);
}

function createStoresNewIn2(db: Db): void {
	db.createObjectStore("block", { keyPath: ["boat", "page", "first"] });
	const outbox = db.createObjectStore("outbox", { keyPath: ["boat", "seq"] });
	outbox.createIndex("at", "at");
	const use = db.createObjectStore("photo_use", { keyPath: "sha256" });
	use.createIndex("at", "at");
}

/** Before version 2, a row of the outbox only named its change. */
async function from1To2(db: Db, tx: UpgradeTx): Promise<void> {
	const rows: Omit<OutboxRow, "change">[] = await tx.objectStore("outbox").getAll();
	db.deleteObjectStore("outbox");
	createStoresNewIn2(db);
	for (const row of rows) {
		const change = await tx.objectStore("change").get(row.id);
		if (change) await tx.objectStore("outbox").put({ ...row, change: asSent(change) });
	}
	// One at a time: all photographs together may not fit into memory.
	for (const sha256 of await tx.objectStore("photo").getAllKeys()) {
		const photo = await tx.objectStore("photo").get(sha256);
		if (!photo) continue;
		const { at, bytes } = photo;
		await tx.objectStore("photo_use").put({ sha256, size: bytes.byteLength, at });
	}
}

/** As it was sent the first time, to the letter: the server compares, should it know it already. */
export function asSent(change: Change): Change {
	const { id, device, seq, table, key, set, base, restates } = change;
	const stamp = change.own_stamp ?? change.stamp;
	const sent = { id, device, seq, stamp, table, key, set, base };
	return restates ? { ...sent, restates } : sent;
}

/**
 * As it goes to a server that may have lost it: with the stamp that the lost log had put right, and
 * with no base, because a base counts in that log. Only what has a cursor was in a log; the stamp
 * of anything else was never judged, and is judged as new.
 */
export function asSentAgain(change: Change): Change {
	const { stamp, cursor } = change;
	return { ...asSent(change), stamp, base: 0, ...(cursor !== undefined && { again: true }) };
}
