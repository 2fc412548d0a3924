/** What of the photographs lies on this phone, and what of it could go. */
import { readStores } from "./db.ts";

export interface Holdings {
	/** In full, and on the server too: these make room when it is short. */
	readonly sent: number;
	readonly sentBytes: number;
	/** In full, and here only: these never go. */
	readonly unsent: number;
	readonly unsentBytes: number;
	/** Small copies, which never go either. */
	readonly thumbnails: number;
}

/** Counted from keys and sizes, so that no photograph is read for it. Throws StorageLost. */
export async function holdings(): Promise<Holdings> {
	return readStores(["photo_use", "thumbnail", "photo_outbox"], async (tx) => {
		const [waiting, uses, thumbnails] = await Promise.all([
			tx.objectStore("photo_outbox").getAll(),
			tx.objectStore("photo_use").getAll(),
			tx.objectStore("thumbnail").count(),
		]);
		const unsent = new Set(waiting.map(({ sha256 }) => sha256));
		const sent = uses.filter(({ sha256 }) => !unsent.has(sha256));
		return {
			sent: sent.length,
			sentBytes: sent.reduce((sum, { size }) => sum + size, 0),
			unsent: waiting.length,
			unsentBytes: waiting.reduce((sum, row) => sum + row.size, 0),
			thumbnails,
		};
	});
}
