/**
 * Photographs that records name and the server has no bytes of, though it had confirmed them: its
 * disk may have lost some. Whoever has a copy offers it again.
 */
import { readStores, writeStores } from "../storage/db.ts";
import { StorageFull } from "../storage/faults.ts";
import { call } from "./http.ts";
import { mustWait } from "./metered.ts";
import { SyncTrouble } from "./problem.ts";
import { session } from "./session.ts";

/** What waits on other phones is on the server's list too, so it is not asked for all the time. */
const ASK_AGAIN_MS = 600_000;

let askedAt = Number.NEGATIVE_INFINITY;

/** Put back into the queue what the server lacks and this phone has in full. Throws SyncTrouble. */
export async function offerMissing(): Promise<void> {
	if (Date.now() - askedAt < ASK_AGAIN_MS || mustWait()) return;
	// Read first: what the server confirms meanwhile must not be sent a second time.
	const sent = await sentPhotos();
	if (sent.size === 0) return;
	try {
		for (const { key } of session.value.boats) {
			await queueAgain((await missingOf(key)).filter((sha256) => sent.has(sha256)));
		}
		askedAt = Date.now();
	} catch (error) {
		// Without room for the queue, what waits goes first and makes some.
		if (!(error instanceof StorageFull)) throw error;
	}
}

/** Digests that records of a boat name and whose bytes the server lacks. Throws SyncTrouble. */
export async function missingOf(boat: string): Promise<string[]> {
	try {
		const answer = await call<{ photos?: unknown }>(
			`/api/boats/${encodeURIComponent(boat)}/photos/missing`,
		);
		if (!Array.isArray(answer?.photos)) throw new SyncTrouble("server trouble");
		return answer.photos;
	} catch (error) {
		// A boat that the server has not got yet misses none.
		if (error instanceof SyncTrouble && error.isRefusal) return [];
		throw error;
	}
}

/** What this phone has in full and nothing waits of. */
function sentPhotos(): Promise<Set<string>> {
	return readStores(["photo_use", "photo_outbox"], async (tx) => {
		const held = new Set(await tx.objectStore("photo_use").getAllKeys());
		for (const sha256 of await tx.objectStore("photo_outbox").getAllKeys()) held.delete(sha256);
		return held;
	});
}

async function queueAgain(digests: readonly string[]): Promise<void> {
	if (digests.length === 0) return;
	await writeStores(["photo_use", "photo_outbox", "thumbnail"], async (tx) => {
		const at = Date.now();
		for (const sha256 of digests) {
			const use = await tx.objectStore("photo_use").get(sha256);
			// It may have been dropped since, to make room.
			if (!use) continue;
			const preview = (await tx.objectStore("thumbnail").get(sha256))?.bytes.byteLength ?? 0;
			await tx.objectStore("photo_outbox").put({ sha256, size: use.size, preview, at });
		}
	});
}
