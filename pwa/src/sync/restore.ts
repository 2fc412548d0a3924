/** After the server was restored from a backup, or changed for another: give it all we have. */
import { asSent, writeStores } from "../storage/db.ts";
import { dropAllCursors, getMeta } from "../storage/meta.ts";

/**
 * Queue every change of this phone and every photograph it holds once more, and read all boats
 * from their beginning. Nothing is deleted; what the server knows it answers as repeated.
 */
export function resendAll(): Promise<void> {
	return writeStores(
		["meta", "change", "outbox", "rejected", "photo_use", "photo_outbox"],
		async (tx) => {
			const device = await getMeta(tx, "device");
			const refused = new Set(await tx.objectStore("rejected").getAllKeys());
			const at = Date.now();
			for (const row of await tx.objectStore("change").getAll()) {
				const { id, boat, seq } = row;
				if (row.device !== device || refused.has(id)) continue;
				if (await tx.objectStore("outbox").getKey([boat, seq])) continue;
				await tx.objectStore("outbox").put({ id, boat, seq, at, change: asSent(row) });
			}
			for (const { sha256, size } of await tx.objectStore("photo_use").getAll()) {
				if (await tx.objectStore("photo_outbox").getKey(sha256)) continue;
				await tx.objectStore("photo_outbox").put({ sha256, size, at });
			}
			await dropAllCursors(tx);
		},
	);
}
