/** What of the photographs lies on this phone, and what of it could go. */
import { readStores } from "./db.ts";
import { boat } from "./memory.ts";

export interface Holdings {
	/** In full, and on the server too: these make room when it is short. */
	readonly sent: number;
	/** Bytes of those whose size this boat's records say. */
	readonly sentBytes: number;
	/** In full, and here only: these never go. */
	readonly unsent: number;
	readonly unsentBytes: number;
	/** Small copies, which never go either. */
	readonly thumbnails: number;
}

/** Counted from keys and records, so that no photograph is read for it. Throws StorageLost. */
export async function holdings(): Promise<Holdings> {
	const sizes = new Map<string | null, number>();
	for (const { sha256, bytes } of boat.table("photo").value.values()) sizes.set(sha256, bytes ?? 0);
	return readStores(["photo", "thumbnail", "photo_outbox"], async (tx) => {
		const waiting = await tx.objectStore("photo_outbox").getAll();
		const unsent = new Set(waiting.map(({ sha256 }) => sha256));
		const sent = (await tx.objectStore("photo").getAllKeys()).filter((key) => !unsent.has(key));
		return {
			sent: sent.length,
			sentBytes: sent.reduce((sum, key) => sum + (sizes.get(key) ?? 0), 0),
			unsent: waiting.length,
			unsentBytes: waiting.reduce((sum, row) => sum + row.size, 0),
			thumbnails: await tx.objectStore("thumbnail").count(),
		};
	});
}
