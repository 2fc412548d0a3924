/** Pictures of other phones to this one: small copies of all, full ones where they are wanted. */
import { sentPhotoBytes, trimPhotos } from "../storage/budget.ts";
import { boat } from "../storage/memory.ts";
import { keepFull, keepThumbnails, withoutFull, withoutThumbnail } from "../storage/photos.ts";
import { usage } from "../storage/quota.ts";
import { settings } from "../storage/settings.ts";
import { callForBytes } from "./http.ts";
import { mustWait } from "./metered.ts";
import { SyncTrouble } from "./problem.ts";

/** Below this much free room on the phone, other phones' pictures are not fetched. */
const MIN_FREE_MB = 200;
const MB = 1_000_000;
const AT_ONCE = 6;
/** A photograph that waits on another phone is not asked for again before this has passed. */
const ASK_AGAIN_MS = 5 * 60_000;

const askedInVain = new Map<string, number>();

/** Fetch the thumbnails that this phone lacks, so that it can show them with no signal. */
export async function pullThumbnails(): Promise<void> {
	if (!(await isRoom())) return;
	const missing = (await withoutThumbnail(newestFirst())).filter(isDue);
	for (let at = 0; at < missing.length && !mustWait(); at += AT_ONCE) {
		const some = missing.slice(at, at + AT_ONCE);
		const fetched = await Promise.all(some.map((sha256) => fetchPicture(sha256, "/thumbnail")));
		await keepThumbnails(fetched.filter((row) => row !== null));
	}
}

/** With "keep all", fetch full photographs too, as far as the budget goes; then hold to it. */
export async function pullFullPhotos(): Promise<void> {
	const { keepAll, budgetMb } = settings.value;
	await trimPhotos(budgetMb);
	if (!keepAll || !(await isRoom())) return;
	let held = await sentPhotoBytes();
	for (const sha256 of (await withoutFull(newestFirst())).filter(isDue)) {
		const size = sizeOf(sha256);
		if (mustWait() || held + size > budgetMb * MB) break;
		if (await keepPhotoHere(sha256)) held += size;
	}
}

/** Keep this photograph in full on this phone. False if the server has none yet. Throws SyncTrouble. */
export async function keepPhotoHere(sha256: string): Promise<boolean> {
	const fetched = await fetchPicture(sha256, "");
	if (fetched) await keepFull(sha256, typeOf(sha256), fetched.bytes);
	return fetched !== null;
}

async function fetchPicture(
	sha256: string,
	which: "" | "/thumbnail",
): Promise<{ sha256: string; bytes: ArrayBuffer } | null> {
	try {
		return { sha256, bytes: await callForBytes(`/api/photos/${sha256}${which}`) };
	} catch (error) {
		// The photograph itself may still wait on the other phone.
		if (!(error instanceof SyncTrouble) || !error.isRefusal) throw error;
		askedInVain.set(sha256, Date.now());
		return null;
	}
}

function isDue(sha256: string): boolean {
	return Date.now() - (askedInVain.get(sha256) ?? Number.NEGATIVE_INFINITY) > ASK_AGAIN_MS;
}

async function isRoom(): Promise<boolean> {
	const { freeMb } = await usage();
	return freeMb === null || freeMb >= MIN_FREE_MB;
}

/** Keys are made in order of time, so the last key is the newest photograph. */
function newestFirst(): string[] {
	const photos = [...boat.table("photo").value.values()].sort((a, b) => (a.key < b.key ? 1 : -1));
	return photos.flatMap(({ sha256 }) => sha256 ?? []);
}

function photoWith(sha256: string) {
	return [...boat.table("photo").value.values()].find((photo) => photo.sha256 === sha256);
}

function sizeOf(sha256: string): number {
	return photoWith(sha256)?.bytes ?? MB;
}

function typeOf(sha256: string): string {
	return photoWith(sha256)?.type ?? "image/jpeg";
}
