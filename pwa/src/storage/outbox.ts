/** What waits for the server: changes in the order they were made, and photographs. */
import type { Change } from "../domain/change.ts";
import {
	asSent,
	asSentAgain,
	type OutboxRow,
	type PhotoOutboxRow,
	type ReadTx,
	type RejectedRow,
	readStores,
	writeStores,
} from "./db.ts";
import { StorageFull } from "./faults.ts";
import { showRows } from "./memory.ts";
import { getMeta } from "./meta.ts";
import { RECORD_STORES, withdrawChange } from "./records.ts";
import { restatedInBlocks } from "./restated.ts";

const OUTCOMES: ReadonlySet<string> = new Set(["accepted", "repeated", "rejected"]);

export interface Waiting {
	readonly unsentChanges: number;
	readonly unsentPhotos: number;
	readonly unsentBytes: number;
	/** Milliseconds since 1970, by this phone's clock. */
	readonly oldestUnsentAt: number | null;
	readonly rejected: readonly RejectedChange[];
	/** The running number of the last change that was kept on this phone; 0 before the first. */
	readonly lastSeq: number;
}

/** A change that the server refused: what it was, and why. */
export interface RejectedChange {
	readonly id: string;
	readonly boat: string;
	readonly at: number;
	readonly change: Change;
	readonly title: string;
	readonly detail: string;
}

/** What the server said of one change of a batch. */
export interface Verdict {
	readonly id: string;
	readonly outcome: "accepted" | "repeated" | "rejected";
	readonly problem?: { readonly title?: string; readonly detail?: string } | null;
}

/** Boats that have changes waiting. */
export function boatsWaiting(): Promise<string[]> {
	return readStores(["outbox"], async (tx) => {
		const boats: string[] = [];
		// Every key of the outbox is an array, and arrays come after all else.
		let next = await tx.objectStore("outbox").getKey(IDBKeyRange.lowerBound([]));
		while (next) {
			boats.push(next[0]);
			next = await tx.objectStore("outbox").getKey(IDBKeyRange.lowerBound([next[0], []]));
		}
		return boats;
	});
}

/**
 * The first changes of a boat that wait, in the order they were made; at most `limit`, and only
 * those numbered after `after`.
 */
export function nextBatch(boat: string, limit: number, after = 0): Promise<Change[]> {
	return readStores(["outbox"], async (tx) => {
		const range = IDBKeyRange.bound([boat, after], [boat, []], true);
		const rows = await tx.objectStore("outbox").getAll(range, limit);
		return rows.map(({ change }) => change);
	});
}

/** Every change that is on this phone only, refused ones too, oldest first. */
export async function unsentChanges(tx: ReadTx): Promise<(Change & { boat: string })[]> {
	const waits = await tx.objectStore("outbox").getAll();
	const found = waits.map(({ boat, change }) => ({ boat, ...change }));
	for (const { id, boat } of await tx.objectStore("rejected").getAll()) {
		const change = await tx.objectStore("change").get(id);
		if (change) found.push({ boat, ...asSent(change) });
	}
	return found.sort((a, b) => a.seq - b.seq);
}

/** Others' changes in a rescue file, at most; the newest are the ones that a backup may lack. */
const MOST_OF_OTHERS = 100_000;

/**
 * Every change that this phone made, and what it holds of others: what waits as it is sent, the
 * rest as it goes to a server that may have lost it (see `resendAll` and `offerOthers`). What came
 * by a snapshot only is restated.
 *
 * Boats come first, because nothing of a boat is taken in before it; this phone's own come last,
 * in the order in which they were made.
 */
export async function heldChanges(tx: ReadTx): Promise<(Change & { boat: string })[]> {
	const own = await unsentChanges(tx);
	const waits = new Set(own.map(({ id }) => id));
	const device = await getMeta(tx, "device");
	const others: typeof own = [];
	for (const row of await tx.objectStore("change").getAll()) {
		if (waits.has(row.id)) continue;
		const change = { boat: row.boat, ...asSentAgain(row) };
		(row.device === device && !row.restates ? own : others).push(change);
	}
	others.push(...(await restatedInBlocks(tx)));
	own.sort((a, b) => a.seq - b.seq);
	others.sort((a, b) => (a.stamp < b.stamp ? -1 : 1));
	const all = [...others.slice(-MOST_OF_OTHERS), ...own];
	const boats = all.filter(({ table }) => table === "boat");
	return [...boats, ...all.filter(({ table }) => table !== "boat")];
}

/**
 * Take out what the server has acknowledged, by id, and put aside what it refused.
 *
 * `batch` is what was sent of `boat`, in order. Returns how many of it were settled.
 */
export function settle(
	boat: string,
	batch: readonly Change[],
	verdicts: readonly Verdict[],
): Promise<number> {
	const told = new Map(verdicts.map((verdict) => [verdict?.id, verdict]));
	const settled = batch.filter(({ id }) => OUTCOMES.has(told.get(id)?.outcome ?? ""));
	const refusals = settled.filter(({ id }) => told.get(id)?.outcome === "rejected");
	return writeStores(["outbox", "rejected"], async (tx) => {
		for (const { id, seq } of refusals) {
			const row = await tx.objectStore("outbox").get([boat, seq]);
			if (row) await tx.objectStore("rejected").put(refused(row, told.get(id)?.problem));
		}
		await Promise.all(
			runs(settled).map(([first, last]) =>
				tx.objectStore("outbox").delete(IDBKeyRange.bound([boat, first], [boat, last])),
			),
		);
		return settled.length;
	});
}

/** Try a refused change again with the next sending. */
export function sendAgain(id: string): Promise<void> {
	return writeStores(["outbox", "rejected", "change"], async (tx) => {
		const row = await tx.objectStore("rejected").get(id);
		const change = await tx.objectStore("change").get(id);
		if (!row || !change) return;
		const { boat, seq, at } = row;
		await tx.objectStore("outbox").put({ id, boat, seq, at, change: asSent(change) });
		await tx.objectStore("rejected").delete(id);
	});
}

/** Give up a refused change: it leaves its record as if it had not been made. */
export async function discardRejected(id: string): Promise<void> {
	const row = await writeStores([...RECORD_STORES, "rejected"], async (tx) => {
		if (!(await tx.objectStore("rejected").get(id))) return null;
		await tx.objectStore("rejected").delete(id);
		return withdrawChange(tx, id);
	});
	if (row) showRows([row]);
}

/** Photographs that wait, oldest first. */
export function photosWaiting(): Promise<PhotoOutboxRow[]> {
	return readStores(["photo_outbox"], (tx) => tx.objectStore("photo_outbox").index("at").getAll());
}

/** The server has returned this digest: its copy is whole. */
export function photoArrived(sha256: string): Promise<void> {
	return writeStores(["photo_outbox"], (tx) => tx.objectStore("photo_outbox").delete(sha256));
}

/**
 * Note that the small copy has gone ahead, or can't. On a full phone that can't be noted, and the
 * small copy goes a second time some day; the full picture must go now, because it makes room.
 */
export async function previewDone(sha256: string): Promise<void> {
	try {
		await writeStores(["photo_outbox"], async (tx) => {
			const row = await tx.objectStore("photo_outbox").get(sha256);
			if (!row) return;
			const { preview: _, ...rest } = row;
			await tx.objectStore("photo_outbox").put(rest);
		});
	} catch (error) {
		if (!(error instanceof StorageFull)) throw error;
	}
}

/** The server refuses this photograph; it stays here, and is offered again when asked for. */
export function photoRefused(row: PhotoOutboxRow, detail: string): Promise<void> {
	return writeStores(["photo_outbox"], async (tx) => {
		await tx.objectStore("photo_outbox").put({ ...row, refused: detail });
	});
}

/** Everything that waits, counted. */
export function waiting(): Promise<Waiting> {
	return readStores(["outbox", "photo_outbox", "rejected", "change", "meta"], async (tx) => {
		const changes = tx.objectStore("outbox");
		const [unsentChanges, oldest, photos, refusedRows, lastSeq = 0] = await Promise.all([
			changes.count(),
			changes.index("at").openKeyCursor(),
			tx.objectStore("photo_outbox").getAll(),
			tx.objectStore("rejected").getAll(),
			getMeta(tx, "seq"),
		]);
		const rejected: RejectedChange[] = [];
		for (const { id, boat, at, title, detail } of refusedRows) {
			const change = await tx.objectStore("change").get(id);
			if (change) rejected.push({ id, boat, at, change: asSent(change), title, detail });
		}
		const times = photos.map((row) => row.at);
		if (oldest) times.push(oldest.key);
		return {
			unsentChanges,
			unsentPhotos: photos.length,
			unsentBytes: photos.reduce((sum, row) => sum + row.size + (row.preview ?? 0), 0),
			oldestUnsentAt: times.length > 0 ? times.reduce((a, b) => Math.min(a, b)) : null,
			rejected,
			lastSeq,
		};
	});
}

/**
 * The numbers of `settled` as runs without a gap, so that each run is one deletion. What was put
 * back into a gap while the batch was under way must stay.
 */
function runs(settled: readonly Change[]): [number, number][] {
	const found: [number, number][] = [];
	for (const { seq } of settled) {
		const last = found.at(-1);
		if (last && seq === last[1] + 1) last[1] = seq;
		else found.push([seq, seq]);
	}
	return found;
}

function refused(row: OutboxRow, problem: Verdict["problem"]): RejectedRow {
	const { id, boat, seq, at } = row;
	return {
		id,
		boat,
		seq,
		at,
		title: problem?.title ?? "The server refused this change",
		detail: problem?.detail ?? "It gave no reason.",
	};
}
