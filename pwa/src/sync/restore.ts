/** After the server was restored from a backup, or changed for another: give it all we have. */
import { asSentAgain, writeStores } from "../storage/db.ts";
import { dropAllCursors, getMeta, putMeta } from "../storage/meta.ts";

/**
 * Queue every change of this phone and every photograph it holds once more, offer it what others
 * wrote and what it knows by a snapshot only, and read all boats from their beginning. Nothing is deleted; what the server knows it
 * answers as repeated.
 *
 * Changes go out with the stamp that the lost log had put right, so that later edits still win
 * over them; and with no base, because a base counts in the lost log: better one clash too many
 * than a value overwritten unseen.
 */
export function resendAll(): Promise<void> {
	return writeStores(
		["meta", "change", "outbox", "rejected", "photo_use", "photo_outbox", "thumbnail"],
		async (tx) => {
			const device = await getMeta(tx, "device");
			const refused = new Set(await tx.objectStore("rejected").getAllKeys());
			const at = Date.now();
			for (const row of await tx.objectStore("change").getAll()) {
				const { id, boat, seq } = row;
				if (row.device !== device || row.restates) continue;
				await tx.objectStore("change").put({ ...row, base: 0 });
				if (refused.has(id)) continue;
				const waits = await tx.objectStore("outbox").get([boat, seq]);
				const change = asSentAgain(row);
				await tx.objectStore("outbox").put({ id, boat, seq, at: waits?.at ?? at, change });
			}
			await putMeta(tx, "offered_to", "");
			await putMeta(tx, "restated_to", []);
			for (const { sha256, size } of await tx.objectStore("photo_use").getAll()) {
				const waits = await tx.objectStore("photo_outbox").get(sha256);
				const preview = (await tx.objectStore("thumbnail").get(sha256))?.bytes.byteLength ?? 0;
				await tx.objectStore("photo_outbox").put({ at, ...waits, sha256, size, preview });
			}
			await dropAllCursors(tx);
		},
	);
}
