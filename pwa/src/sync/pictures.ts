/** Pictures of other phones to this one: small copies of all, full ones where they are wanted. */
import { sentPhotoBytes, trimPhotos } from "../storage/budget.ts";
import { boat } from "../storage/memory.ts";
import { readMeta } from "../storage/meta.ts";
import {
	type FetchedThumbnail,
	keepFull,
	keepThumbnails,
	withoutFull,
	withoutThumbnail,
} from "../storage/photos.ts";
import { usage } from "../storage/quota.ts";
import { settings } from "../storage/settings.ts";
import { callForBytes } from "./http.ts";
import { mustWait } from "./metered.ts";
import { missingOf } from "./missing.ts";
import { SyncTrouble } from "./problem.ts";

/** Below this much free room on the phone, other phones' pictures are not fetched. */
const MIN_FREE_MB = 200;
const MB = 1_000_000;
const AT_ONCE = 6;
/** A photograph that waits on another phone is not asked for again before this has passed. */
const ASK_AGAIN_MS = 60_000;
/** Set by the server where a small copy is only what the other phone sent ahead. */
const PREVIEW = "X-Shedtally-Preview";

const askedInVain = new Map<string, number>();
let renewedAt = Number.NEGATIVE_INFINITY;

/** Fetch the thumbnails that this phone lacks, so that it can show them with no signal. */
export async function pullThumbnails(): Promise<void> {
	if (!(await isRoom())) return;
	await fetchThumbnails((await withoutThumbnail(newestFirst())).filter(isDue));
}

/** Where this phone has only what another sent ahead, fetch the server's own, once it has it. */
export async function renewPreviews(): Promise<void> {
	const previews = new Set(await readMeta("previews"));
	const here = newestFirst().filter((sha256) => previews.has(sha256));
	const due = Date.now() - renewedAt > ASK_AGAIN_MS;
	if (here.length === 0 || !due || mustWait() || !(await isRoom())) return;
	renewedAt = Date.now();
	const missing = new Set(await missingOf(boat.key.value ?? ""));
	await fetchThumbnails(here.filter((sha256) => !missing.has(sha256)));
}

async function fetchThumbnails(digests: readonly string[]): Promise<void> {
	for (let at = 0; at < digests.length && !mustWait(); at += AT_ONCE) {
		const some = digests.slice(at, at + AT_ONCE);
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
): Promise<FetchedThumbnail | null> {
	try {
		const { bytes, headers } = await callForBytes(`/api/photos/${sha256}${which}`);
		return { sha256, bytes, isPreview: headers.get(PREVIEW) === "1" };
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
