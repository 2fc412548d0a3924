/**
 * Photographs to the server, one at a time, each whole or not at all; small copies of all of them
 * before the first (`previews.ts`).
 *
 * They have a lane of their own: `schedule.ts` sends changes while a photograph is under way, so
 * that a slow or stuck one delays no change. An upload that was cut starts again; the server
 * answers with the digest of what it has, and only that lets go of the phone's copy.
 */
import type { PhotoOutboxRow } from "../storage/db.ts";
import { photoArrived, photoRefused, photosWaiting } from "../storage/outbox.ts";
import { photoBytes } from "../storage/photos.ts";
import { whileAwake } from "./awake.ts";
import { call, PHOTO_TIMEOUT_MS } from "./http.ts";
import { goAnyway, mustWait, waitAgain } from "./metered.ts";
import { syncNow } from "./now.ts";
import { Previews } from "./previews.ts";
import { SyncTrouble, wasDamagedOnTheWay } from "./problem.ts";
import { inSendingOrder } from "./queue.ts";
import { recount, tell } from "./state.ts";

/** How often each photograph failed since the app was opened; those go last. */
const failures = new Map<string, number>();
/** Bytes that arrived since the queue was last empty. */
let arrivedBytes = 0;

/** Send every photograph that waits. Throws SyncTrouble when the line fails. */
export async function pushPhotos(): Promise<void> {
	const waiting = await sendable();
	await whileAwake(waiting.length, pushAll);
}

/** Send photographs now, though the line may cost money; until the queue is empty. */
export function sendPhotosAnyway(): Promise<void> {
	goAnyway();
	return syncNow();
}

async function pushAll(): Promise<void> {
	const tried = new Set<string>();
	const previews = new Previews();
	let damaged: SyncTrouble | null = null;
	for (;;) {
		// Read anew each time: what was kept meanwhile may come before the rest.
		const waiting = (await sendable()).map((row) => previews.asCounted(row));
		const paused = waiting.length > 0 && mustWait();
		tellProgress(waiting, 0, paused);
		if (paused) break;
		const small = previews.next(waiting);
		const [next] = waiting.filter(({ sha256 }) => !tried.has(sha256));
		if (small.length > 0) {
			arrivedBytes += await previews.push(small);
		} else {
			if (!next) break;
			tried.add(next.sha256);
			damaged = (await pushOne(next, waiting)) ?? damaged;
		}
		await recount();
	}
	damaged ??= previews.damaged;
	if (damaged) throw damaged;
}

async function sendable(): Promise<PhotoOutboxRow[]> {
	const rows = (await photosWaiting()).filter((row) => row.refused === undefined);
	return inSendingOrder(rows, failures, Date.now());
}

/** Returns why it must be tried again, if it was damaged on the way. */
async function pushOne(
	row: PhotoOutboxRow,
	waiting: readonly PhotoOutboxRow[],
): Promise<SyncTrouble | null> {
	try {
		await pushPhoto(row, (bytes) => tellProgress(waiting, bytes, false));
		failures.delete(row.sha256);
		arrivedBytes += row.size;
		return null;
	} catch (error) {
		failures.set(row.sha256, (failures.get(row.sha256) ?? 0) + 1);
		// A photograph that is refused must not hold up the others.
		if (!(error instanceof SyncTrouble) || !error.isRefusal) throw error;
		if (wasDamagedOnTheWay(error)) return error;
		await photoRefused(row, error.problem.todo);
		return null;
	}
}

function tellProgress(waiting: readonly PhotoOutboxRow[], sent: number, paused: boolean): void {
	if (waiting.length === 0) {
		arrivedBytes = 0;
		waitAgain();
	}
	const left = waiting.reduce((sum, { size, preview }) => sum + size + (preview ?? 0), 0);
	tell({
		photoBytesSent: arrivedBytes + Math.min(sent, left),
		photoBytesTotal: arrivedBytes + left,
		pausedForMetered: paused,
	});
}

async function pushPhoto(row: PhotoOutboxRow, onSent: (bytes: number) => void): Promise<void> {
	const photo = await photoBytes(row.sha256);
	// Without bytes there is nothing to send; the row stays, so that it is seen.
	if (!photo) return;
	const answer = await call<{ sha256?: unknown }>(`/api/photos/${row.sha256}`, {
		method: "PUT",
		body: photo,
		timeoutMs: PHOTO_TIMEOUT_MS,
		onSent,
	});
	if (answer?.sha256 !== row.sha256) throw new SyncTrouble("server trouble");
	await photoArrived(row.sha256);
}
