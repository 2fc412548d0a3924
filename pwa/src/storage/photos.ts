/**
 * Photographs on the phone, under the SHA-256 of their bytes.
 *
 * A row in `photo_outbox` says that the server has not yet confirmed the digest; bytes of such a
 * photograph are never dropped. Confirmed ones stay as a copy while there is room (`budget.ts`),
 * their thumbnails stay for good.
 */
import { type ReadTx, readStores, type WriteTx, writeStores } from "./db.ts";
import { getMeta, putMeta } from "./meta.ts";

/** A photograph ready to be kept: shrunk, without position data, with its thumbnail. */
export interface KeptPhoto {
	readonly sha256: string;
	readonly type: string;
	readonly bytes: ArrayBuffer;
	/** A JPEG of at most 320 px. */
	readonly thumbnail: ArrayBuffer;
	readonly width: number;
	readonly height: number;
}

const MAX_URLS = 300;
const urls = new Map<string, string>();

/** Put a photograph and its place in the queue for the server, in a transaction of the caller. */
export async function putPhoto(tx: WriteTx, photo: KeptPhoto, now: number): Promise<void> {
	const { sha256, type, bytes, thumbnail } = photo;
	await tx.objectStore("photo").put({ sha256, type, bytes, at: now });
	await tx.objectStore("photo_use").put({ sha256, size: bytes.byteLength, at: now });
	await tx.objectStore("thumbnail").put({ sha256, bytes: thumbnail });
	const sizes = { size: bytes.byteLength, preview: thumbnail.byteLength };
	await tx.objectStore("photo_outbox").put({ sha256, ...sizes, at: now });
}

/**
 * An address for an `<img>`: of the bytes on this phone, else of the server's copy.
 *
 * The server's address may fail to load offline. Null for a digest that can't be one.
 */
export async function photoUrl(sha256: string, size: "thumbnail" | "full"): Promise<string | null> {
	if (!/^[0-9a-f]{64}$/.test(sha256)) return null;
	const name = `${size}/${sha256}`;
	const made = urls.get(name);
	if (made) return made;
	const local = await readStores(["photo", "thumbnail"], (tx) => localBytes(tx, sha256, size));
	if (!local) return `/api/photos/${sha256}${size === "thumbnail" ? "/thumbnail" : ""}`;
	const url = URL.createObjectURL(new Blob([local.bytes], { type: local.type }));
	remember(name, url);
	return url;
}

/** Bytes of a photograph for sending; undefined if they are gone. */
export async function photoBytes(
	sha256: string,
): Promise<{ type: string; bytes: ArrayBuffer } | undefined> {
	return readStores(["photo"], (tx) => tx.objectStore("photo").get(sha256));
}

/** The small copy of a photograph; undefined if there is none. */
export async function thumbnailBytes(sha256: string): Promise<ArrayBuffer | undefined> {
	const row = await readStores(["thumbnail"], (tx) => tx.objectStore("thumbnail").get(sha256));
	return row?.bytes;
}

/** Which of these have no thumbnail on this phone yet. */
export async function withoutThumbnail(digests: readonly string[]): Promise<string[]> {
	const held = await readStores(["thumbnail"], (tx) => tx.objectStore("thumbnail").getAllKeys());
	const known = new Set(held);
	return [...new Set(digests)].filter((sha256) => !known.has(sha256));
}

/** A small copy as it came from the server. */
export interface FetchedThumbnail {
	readonly sha256: string;
	readonly bytes: ArrayBuffer;
	/** It is what the other phone sent ahead; the server makes its own once the picture is there. */
	readonly isPreview: boolean;
}

/** Keep small copies of photographs that lie elsewhere. */
export async function keepThumbnails(fetched: readonly FetchedThumbnail[]): Promise<void> {
	if (fetched.length === 0) return;
	await writeStores(["thumbnail", "meta"], async (tx) => {
		const before = new Set(await getMeta(tx, "previews"));
		const after = new Set(before);
		for (const { sha256, bytes, isPreview } of fetched) {
			await tx.objectStore("thumbnail").put({ sha256, bytes });
			if (isPreview) after.add(sha256);
			else after.delete(sha256);
		}
		if (before.size > 0 || after.size > 0) await putMeta(tx, "previews", [...after]);
	});
	for (const { sha256 } of fetched) urls.delete(`thumbnail/${sha256}`);
}

/** Which of these are not on this phone in full. */
export async function withoutFull(digests: readonly string[]): Promise<string[]> {
	const held = await readStores(["photo"], (tx) => tx.objectStore("photo").getAllKeys());
	const known = new Set(held);
	return [...new Set(digests)].filter((sha256) => !known.has(sha256));
}

/** Keep a full copy of a photograph that the server has. */
export function keepFull(sha256: string, type: string, bytes: ArrayBuffer): Promise<void> {
	return writeStores(["photo", "photo_use"], async (tx) => {
		const at = Date.now();
		await tx.objectStore("photo").put({ sha256, type, bytes, at });
		await tx.objectStore("photo_use").put({ sha256, size: bytes.byteLength, at });
	});
}

/** The photograph was looked at; it is among the last to go when room is short. */
function noteUse(sha256: string, size: number): Promise<void> {
	const at = Date.now();
	return writeStores(["photo", "photo_use"], async (tx) => {
		// It may have been dropped since; a row about nothing would count as room that can be made.
		if ((await tx.objectStore("photo").getKey(sha256)) === undefined) return;
		await tx.objectStore("photo_use").put({ sha256, size, at });
	});
}

async function localBytes(
	tx: ReadTx,
	sha256: string,
	size: "thumbnail" | "full",
): Promise<{ bytes: ArrayBuffer; type: string } | undefined> {
	if (size === "full") {
		const photo = await tx.objectStore("photo").get(sha256);
		if (photo) void noteUse(sha256, photo.bytes.byteLength).catch(() => {});
		return photo;
	}
	const thumbnail = await tx.objectStore("thumbnail").get(sha256);
	return thumbnail ? { bytes: thumbnail.bytes, type: "image/jpeg" } : undefined;
}

function remember(name: string, url: string): void {
	urls.set(name, url);
	if (urls.size <= MAX_URLS) return;
	const [oldest] = urls;
	if (!oldest) return;
	urls.delete(oldest[0]);
	// Whoever shows it has loaded it long ago; it only frees the bytes.
	URL.revokeObjectURL(oldest[1]);
}
