/**
 * The phone's database, and the one way to use it; `schema.ts` says what is in it.
 *
 * Every piece of work is one short transaction given to `inStores`. Nothing inside may wait for
 * anything but the database, or the browser commits early. A lost connection is opened again and
 * the work is done once more from its start; a transaction that did not commit left nothing behind.
 */
import { type IDBPDatabase, type IDBPTransaction, openDB, type StoreNames } from "idb";
import { isConnectionLost, isFull, StorageFull, StorageLost } from "./faults.ts";
import { newLog } from "./newlog.ts";
import { DB_VERSION, type Schema, upgrade } from "./schema.ts";

export type * from "./schema.ts";
export { asSent, asSentAgain } from "./schema.ts";

export const DB_NAME = "shedtally";
const OPEN_TIMEOUT_MS = 3_000;

export type StoreName = StoreNames<Schema>;
export type WriteTx = IDBPTransaction<Schema, StoreName[], "readwrite">;
export type ReadTx = IDBPTransaction<Schema, StoreName[], "readonly"> | WriteTx;

let opened: Promise<IDBPDatabase<Schema>> | null = null;
/** Transactions under way in this page. */
const underWay = new Set<AnyTx>();
/** Resolves once the page is shown; see `freeBeforeSleep`. */
let awake: Promise<void> = Promise.resolve();

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

/**
 * Leave nothing locked when the browser puts this page to sleep for the way back; once, at start.
 *
 * WebKit keeps such a page with its transactions open, and the page that came after it waits for
 * their locks for ever. So they are undone, and done again from their start when the page wakes.
 */
export function freeBeforeSleep(): void {
	let wake = (): void => {};
	addEventListener("pagehide", (event: Event) => {
		if (!(event as PageTransitionEvent).persisted) return;
		awake = new Promise((resolve) => {
			wake = resolve;
		});
		for (const tx of underWay) abort(tx);
		void closeDatabase();
	});
	addEventListener("pageshow", () => wake());
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
	const tx = await begun(stores, mode);
	underWay.add(tx);
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
	} finally {
		underWay.delete(tx);
	}
}

async function begun(stores: StoreName[], mode: IDBTransactionMode): Promise<AnyTx> {
	if (mode === "readwrite") await newLog();
	let db: IDBPDatabase<Schema>;
	let seen: Promise<void>;
	do {
		seen = awake;
		await seen;
		db = await database();
		// It may have fallen asleep meanwhile.
	} while (seen !== awake);
	return db.transaction(stores, mode, { durability: "strict" }) as AnyTx;
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
		upgrade: (db, oldVersion, _newVersion, tx) => {
			// The opening itself tells of a failure; this only keeps it from being told twice.
			tx.done.catch(() => {});
			// Half an upgrade would lose work: undo it, and try again at the next opening.
			upgrade(db, oldVersion, tx as never).catch(() => abort(tx as never));
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

function withTimeout<R>(opening: Promise<R>): Promise<R> {
	return new Promise((resolve, reject) => {
		const timer = setTimeout(() => {
			reject(new DOMException("the database did not open in time", "UnknownError"));
		}, OPEN_TIMEOUT_MS);
		opening.then(resolve, reject).finally(() => clearTimeout(timer));
	});
}
