/**
 * The phone's database: its stores, their upgrades, and the one way to use them.
 *
 * Every piece of work is one short transaction given to `inStores`. Nothing inside may wait for
 * anything but the database, or the browser commits early. A lost connection is opened again and
 * the work is done once more from its start; a transaction that did not commit left nothing behind.
 */
import {
	type DBSchema,
	type IDBPDatabase,
	type IDBPTransaction,
	openDB,
	type StoreNames,
} from "idb";
import type { Change, State } from "../domain/change.ts";
import type { JsonValue } from "../domain/contract.ts";
import { isConnectionLost, isFull, StorageFull, StorageLost } from "./faults.ts";

export const DB_NAME = "shedtally";
const DB_VERSION = 1;
const OPEN_TIMEOUT_MS = 3_000;

export interface RecordRow extends State {
	readonly boat: string;
	readonly table: string;
	readonly key: string;
}

/** A change of this phone or of another; the log of a record is its history. */
export interface ChangeRow extends Change {
	readonly boat: string;
}

/** A change that the server has not acknowledged. */
export interface OutboxRow {
	readonly id: string;
	readonly boat: string;
	readonly seq: number;
	/** Milliseconds since 1970, by the phone's clock. */
	readonly at: number;
}

/** A change that the server refused, kept until the person has dealt with it. */
export interface RejectedRow extends OutboxRow {
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

export interface PhotoOutboxRow {
	readonly sha256: string;
	/** Bytes. */
	readonly size: number;
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
	change: { key: string; value: ChangeRow; indexes: { record: [string, string, string] } };
	outbox: { key: string; value: OutboxRow; indexes: { order: [string, number] } };
	rejected: { key: string; value: RejectedRow };
	photo: { key: string; value: PhotoRow };
	thumbnail: { key: string; value: { sha256: string; bytes: ArrayBuffer } };
	photo_outbox: { key: string; value: PhotoOutboxRow; indexes: { at: number } };
	list: { key: [string, string]; value: ListRow };
	tag: { key: string; value: { code: string; boat: string } };
}

export type StoreName = StoreNames<Schema>;
export type WriteTx = IDBPTransaction<Schema, StoreName[], "readwrite">;
export type ReadTx = IDBPTransaction<Schema, StoreName[], "readonly"> | WriteTx;
export type { JsonValue };

let opened: Promise<IDBPDatabase<Schema>> | null = null;

/** Read from `stores` in one transaction. Throws StorageLost. */
export function readStores<R>(stores: StoreName[], work: (tx: ReadTx) => Promise<R>): Promise<R> {
	return supervised(stores, "readonly", (tx) => work(tx as ReadTx));
}

/**
 * Write to `stores` in one transaction, which is on the disk when this resolves.
 *
 * Throws StorageFull or StorageLost, or what `work` threw; in each case nothing was written.
 */
export function writeStores<R>(stores: StoreName[], work: (tx: WriteTx) => Promise<R>): Promise<R> {
	return supervised(stores, "readwrite", (tx) => work(tx as WriteTx));
}

/** Close the connection; the next use opens it again. */
export async function closeDatabase(): Promise<void> {
	const closing = opened;
	opened = null;
	await closing?.then((db) => db.close()).catch(() => {});
}

type AnyTx = IDBPTransaction<Schema, StoreName[], IDBTransactionMode>;

async function supervised<R>(
	stores: StoreName[],
	mode: IDBTransactionMode,
	work: (tx: AnyTx) => Promise<R>,
): Promise<R> {
	try {
		return await attempt(stores, mode, work);
	} catch (error) {
		if (isFull(error)) throw new StorageFull();
		if (!isConnectionLost(error)) throw error;
	}
	await closeDatabase();
	try {
		return await attempt(stores, mode, work);
	} catch (error) {
		if (isFull(error)) throw new StorageFull();
		if (isConnectionLost(error)) throw new StorageLost({ cause: error });
		throw error;
	}
}

async function attempt<R>(
	stores: StoreName[],
	mode: IDBTransactionMode,
	work: (tx: AnyTx) => Promise<R>,
): Promise<R> {
	const db = await database();
	const tx = db.transaction(stores, mode, { durability: "strict" }) as AnyTx;
	// Settled below; this only keeps an early failure from being reported as unhandled.
	tx.done.catch(() => {});
	try {
		const result = await work(tx);
		await tx.done;
		return result;
	} catch (error) {
		abort(tx);
		await tx.done.catch(() => {});
		// A full disk may show only as the reason of the abort.
		throw isFull(tx.error) ? tx.error : error;
	}
}

function abort(tx: AnyTx): void {
	try {
		tx.abort();
	} catch {
		// It has already ended by itself.
	}
}

function database(): Promise<IDBPDatabase<Schema>> {
	opened ??= openWithRetry().catch((error: unknown) => {
		opened = null;
		throw new StorageLost({ cause: error });
	});
	return opened;
}

async function openWithRetry(): Promise<IDBPDatabase<Schema>> {
	try {
		return await withTimeout(open());
	} catch {
		// The first open after a cold start may hang for ever (https://bugs.webkit.org/226547).
		return await withTimeout(open());
	}
}

function open(): Promise<IDBPDatabase<Schema>> {
	return openDB<Schema>(DB_NAME, DB_VERSION, {
		upgrade: (db, oldVersion) => {
			if (oldVersion < 1) createFirstStores(db);
		},
		// Another tab has a newer version of the app: let it upgrade, and open again on next use.
		blocking: (_current, _blocked, event) => {
			(event.target as IDBDatabase).close();
			opened = null;
		},
		terminated: () => {
			opened = null;
		},
	});
}

function createFirstStores(db: IDBPDatabase<Schema>): void {
	db.createObjectStore("meta");
	db.createObjectStore("record", { keyPath: ["boat", "table", "key"] });
	const change = db.createObjectStore("change", { keyPath: "id" });
	change.createIndex("record", ["boat", "table", "key"]);
	const outbox = db.createObjectStore("outbox", { keyPath: "id" });
	outbox.createIndex("order", ["boat", "seq"]);
	db.createObjectStore("rejected", { keyPath: "id" });
	db.createObjectStore("photo", { keyPath: "sha256" });
	db.createObjectStore("thumbnail", { keyPath: "sha256" });
	const photos = db.createObjectStore("photo_outbox", { keyPath: "sha256" });
	photos.createIndex("at", "at");
	db.createObjectStore("list", { keyPath: ["boat", "name"] });
	db.createObjectStore("tag", { keyPath: "code" });
}

function withTimeout<R>(opening: Promise<R>): Promise<R> {
	return new Promise((resolve, reject) => {
		const timer = setTimeout(() => {
			reject(new DOMException("the database did not open in time", "UnknownError"));
		}, OPEN_TIMEOUT_MS);
		opening.then(resolve, reject).finally(() => clearTimeout(timer));
	});
}
