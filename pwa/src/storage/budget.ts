/** Room for full photographs: the server's copies go first, the longest unseen before the others. */
import { readStores, type StoreName, type WriteTx, writeStores } from "./db.ts";
import { StorageFull } from "./faults.ts";

const MB = 1_000_000;
/** What is freed at once when the phone is full, so that it is not full again with the next one. */
const AT_ONCE_BYTES = 50 * MB;

/**
 * Let full photographs that the server has confirmed take at most `budgetMb` (1,000,000 bytes).
 * Never touches unconfirmed ones or thumbnails. Returns the bytes freed.
 */
export async function trimPhotos(budgetMb: number): Promise<number> {
	return drop((total) => total - budgetMb * MB);
}

/** Make room in need. Returns whether anything could be dropped. */
export async function freeSentPhotos(): Promise<boolean> {
	return (await drop(() => AT_ONCE_BYTES)) > 0;
}

/** Write, and while the phone is full, drop copies that the server has and write again. */
export async function writeMakingRoom<R>(
	stores: StoreName[],
	work: (tx: WriteTx) => Promise<R>,
): Promise<R> {
	for (;;) {
		try {
			return await writeStores(stores, work);
		} catch (error) {
			if (!(error instanceof StorageFull) || !(await freeSentPhotos())) throw error;
		}
	}
}

/** Bytes of full photographs on this phone that the server has too. */
export function sentPhotoBytes(): Promise<number> {
	return readStores(["photo_use", "photo_outbox"], async (tx) => {
		const waiting = new Set(await tx.objectStore("photo_outbox").getAllKeys());
		const uses = await tx.objectStore("photo_use").getAll();
		return uses.reduce((sum, { sha256, size }) => sum + (waiting.has(sha256) ? 0 : size), 0);
	});
}

/** Drop confirmed photographs until `wanted` bytes are free, if there are as many. */
async function drop(wanted: (total: number) => number): Promise<number> {
	return writeStores(["photo", "photo_use", "photo_outbox"], async (tx) => {
		const waiting = new Set(await tx.objectStore("photo_outbox").getAllKeys());
		const oldestFirst = await tx.objectStore("photo_use").index("at").getAll();
		const sent = oldestFirst.filter(({ sha256 }) => !waiting.has(sha256));
		const goal = wanted(sent.reduce((sum, { size }) => sum + size, 0));
		let freed = 0;
		for (const { sha256, size } of sent) {
			if (freed >= goal) break;
			await tx.objectStore("photo").delete(sha256);
			await tx.objectStore("photo_use").delete(sha256);
			freed += size;
		}
		return freed;
	});
}
