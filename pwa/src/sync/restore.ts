/** After the server was restored from a backup, or changed for another: give it all we have. */
import { writeStores } from "../storage/db.ts";
import { getMeta } from "../storage/meta.ts";

/**
 * Queue every change of this phone and every photograph it holds once more, and read all boats
 * from their beginning. Nothing is deleted; what the server knows it answers as repeated.
 */
export function resendAll(): Promise<void> {
	return writeStores(
		["meta", "change", "outbox", "rejected", "photo", "photo_outbox"],
		async (tx) => {
			const device = await getMeta(tx, "device");
			const refused = new Set(await tx.objectStore("rejected").getAllKeys());
			const now = Date.now();
			for (const { id, boat, seq, device: author } of await tx.objectStore("change").getAll()) {
				if (author !== device || refused.has(id)) continue;
				if (await tx.objectStore("outbox").get(id)) continue;
				await tx.objectStore("outbox").put({ id, boat, seq, at: now });
			}
			// One at a time: all photographs together may not fit into memory.
			for (const sha256 of await tx.objectStore("photo").getAllKeys()) {
				const photo = await tx.objectStore("photo").get(sha256);
				if (!photo || (await tx.objectStore("photo_outbox").get(sha256))) continue;
				await tx.objectStore("photo_outbox").put({ sha256, size: photo.bytes.byteLength, at: now });
			}
			await tx.objectStore("meta").delete(IDBKeyRange.bound("cursor/", "cursor/\uffff"));
		},
	);
}
