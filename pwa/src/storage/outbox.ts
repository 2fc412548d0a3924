/** What waits for the server: changes in the order they were made, and photographs. */
import type { Change } from "../domain/change.ts";
import {
	type OutboxRow,
	type PhotoOutboxRow,
	type ReadTx,
	type RejectedRow,
	readStores,
	writeStores,
} from "./db.ts";
import { showRows } from "./memory.ts";
import { withdrawChange } from "./records.ts";

export interface Waiting {
	readonly unsentChanges: number;
	readonly unsentPhotos: number;
	readonly unsentBytes: number;
	/** Milliseconds since 1970, by this phone's clock. */
	readonly oldestUnsentAt: number | null;
	readonly rejected: readonly RejectedChange[];
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
		const rows = await tx.objectStore("outbox").getAll();
		return [...new Set(rows.map((row) => row.boat))];
	});
}

/** The first changes of a boat that wait, in the order they were made; at most `limit`. */
export function nextBatch(boat: string, limit: number): Promise<Change[]> {
	return readStores(["outbox", "change"], async (tx) => {
		const order = tx.objectStore("outbox").index("order");
		const rows = await order.getAll(IDBKeyRange.bound([boat], [boat, []]), limit);
		const changes = await Promise.all(rows.map((row) => tx.objectStore("change").get(row.id)));
		return changes.filter((change) => change !== undefined).map(asSent);
	});
}

/** Every change that is on this phone only, refused ones too, oldest first. */
export async function unsentChanges(tx: ReadTx): Promise<(Change & { boat: string })[]> {
	const waits = await tx.objectStore("outbox").getAll();
	const refusedRows = await tx.objectStore("rejected").getAll();
	const found: (Change & { boat: string })[] = [];
	for (const { id, boat } of [...waits, ...refusedRows].sort((a, b) => a.seq - b.seq)) {
		const change = await tx.objectStore("change").get(id);
		if (change) found.push({ ...asSent(change), boat });
	}
	return found;
}

/** Take out what the server has acknowledged, by id, and put aside what it refused. */
export function settle(verdicts: readonly Verdict[]): Promise<number> {
	return writeStores(["outbox", "rejected"], async (tx) => {
		const outbox = tx.objectStore("outbox");
		let settled = 0;
		for (const { id, outcome, problem } of verdicts) {
			const row = await outbox.get(id);
			if (!row || !["accepted", "repeated", "rejected"].includes(outcome)) continue;
			if (outcome === "rejected") await tx.objectStore("rejected").put(refused(row, problem));
			await outbox.delete(id);
			settled += 1;
		}
		return settled;
	});
}

/** Try a refused change again with the next sending. */
export function sendAgain(id: string): Promise<void> {
	return writeStores(["outbox", "rejected"], async (tx) => {
		const row = await tx.objectStore("rejected").get(id);
		if (!row) return;
		const { boat, seq, at } = row;
		await tx.objectStore("outbox").put({ id, boat, seq, at });
		await tx.objectStore("rejected").delete(id);
	});
}

/** Give up a refused change: it leaves its record as if it had not been made. */
export async function discardRejected(id: string): Promise<void> {
	const row = await writeStores(["rejected", "change", "record"], async (tx) => {
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

/** The server refuses this photograph; it stays here, and is offered again when asked for. */
export function photoRefused(row: PhotoOutboxRow, detail: string): Promise<void> {
	return writeStores(["photo_outbox"], async (tx) => {
		await tx.objectStore("photo_outbox").put({ ...row, refused: detail });
	});
}

/** Everything that waits, counted. */
export function waiting(): Promise<Waiting> {
	return readStores(["outbox", "photo_outbox", "rejected", "change"], async (tx) => {
		const changes = await tx.objectStore("outbox").getAll();
		const photos = await tx.objectStore("photo_outbox").getAll();
		const refusedRows = await tx.objectStore("rejected").getAll();
		const rejected: RejectedChange[] = [];
		for (const { id, boat, at, title, detail } of refusedRows) {
			const change = await tx.objectStore("change").get(id);
			if (change) rejected.push({ id, boat, at, change: asSent(change), title, detail });
		}
		const times = [...changes, ...photos].map((row) => row.at);
		return {
			unsentChanges: changes.length,
			unsentPhotos: photos.length,
			unsentBytes: photos.reduce((sum, row) => sum + row.size, 0),
			oldestUnsentAt: times.length > 0 ? times.reduce((a, b) => Math.min(a, b)) : null,
			rejected,
		};
	});
}

function refused(row: OutboxRow, problem: Verdict["problem"]): RejectedRow {
	return {
		...row,
		title: problem?.title ?? "The server refused this change",
		detail: problem?.detail ?? "It gave no reason.",
	};
}

/** As it was sent the first time, to the letter: the server compares, should it know it already. */
function asSent(change: Change): Change {
	const { id, device, seq, table, key, set, base } = change;
	return { id, device, seq, stamp: change.own_stamp ?? change.stamp, table, key, set, base };
}
