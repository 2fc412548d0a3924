/**
 * Small copies of photographs to the server, all of them before the first full one.
 *
 * So the others see within seconds what was taken, though the pictures may need the whole night.
 * The server may be an older one that takes none: then nothing is missing, the full ones go.
 */
import { sha256 } from "@noble/hashes/sha2.js";
import type { PhotoOutboxRow } from "../storage/db.ts";
import { previewDone } from "../storage/outbox.ts";
import { thumbnailBytes } from "../storage/photos.ts";
import { call, PHOTO_TIMEOUT_MS } from "./http.ts";
import { SyncTrouble, wasDamagedOnTheWay } from "./problem.ts";

const AT_ONCE = 6;
/** A small copy on which the line broke so often holds up the full pictures no longer. */
const TRIES = 2;
const NOT_THERE = [404, 405];

/** How often the line broke on each since the app was opened. */
const failures = new Map<string, number>();

/** The small copies of one sending. */
export class Previews {
	/** Why one of them must be tried again with the next sending, if any must. */
	damaged: SyncTrouble | null = null;
	#areTaken = true;
	readonly #tried = new Set<string>();

	/** The row, without its small copy where the server takes none: those bytes never go. */
	asCounted(row: PhotoOutboxRow): PhotoOutboxRow {
		if (this.#areTaken) return row;
		const { preview: _, ...rest } = row;
		return rest;
	}

	/** Whose small copies go next, in the order of `waiting`; empty when the full ones may go. */
	next(waiting: readonly PhotoOutboxRow[]): PhotoOutboxRow[] {
		if (!this.#areTaken) return [];
		const due = ({ sha256, preview }: PhotoOutboxRow): boolean =>
			preview !== undefined && !this.#tried.has(sha256) && (failures.get(sha256) ?? 0) < TRIES;
		return waiting.filter(due).slice(0, AT_ONCE);
	}

	/** Send these. Returns the bytes that arrived; throws SyncTrouble when the line fails. */
	async push(rows: readonly PhotoOutboxRow[]): Promise<number> {
		for (const row of rows) this.#tried.add(row.sha256);
		// Each to its end, so that none goes on behind a round that has failed.
		const ended = await Promise.allSettled(rows.map((row) => this.#pushOne(row)));
		const failed = ended.find((one) => one.status === "rejected");
		if (failed) throw failed.reason;
		return ended.reduce((sum, one) => sum + (one.status === "fulfilled" ? one.value : 0), 0);
	}

	async #pushOne(row: PhotoOutboxRow): Promise<number> {
		try {
			const sent = await pushPreview(row.sha256);
			failures.delete(row.sha256);
			await previewDone(row.sha256);
			return sent;
		} catch (error) {
			if (!(error instanceof SyncTrouble) || !error.isRefusal) {
				failures.set(row.sha256, (failures.get(row.sha256) ?? 0) + 1);
				throw error;
			}
			if (NOT_THERE.includes(error.answer?.status ?? 0)) this.#areTaken = false;
			else if (wasDamagedOnTheWay(error)) this.damaged = error;
			// It would be refused again, and the full picture says the same better.
			else await previewDone(row.sha256);
			return 0;
		}
	}
}

/** Returns the bytes sent. */
async function pushPreview(of: string): Promise<number> {
	const bytes = await thumbnailBytes(of);
	if (!bytes || bytes.byteLength === 0) return 0;
	const digest = sha256(new Uint8Array(bytes));
	const answer = await call<{ sha256?: unknown }>(`/api/photos/${of}/preview`, {
		method: "PUT",
		body: { bytes, type: "image/jpeg" },
		// RFC 9530, so that a copy that was damaged on the way is noticed.
		headers: { "Content-Digest": `sha-256=:${btoa(String.fromCharCode(...digest))}:` },
		timeoutMs: PHOTO_TIMEOUT_MS,
	});
	if (answer?.sha256 !== of) throw new SyncTrouble("server trouble");
	return bytes.byteLength;
}
