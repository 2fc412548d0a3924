/** Photographs to the server, and small copies of other phones' photographs to this one. */
import type { PhotoOutboxRow } from "../storage/db.ts";
import { boat } from "../storage/memory.ts";
import { photoArrived, photoRefused, photosWaiting } from "../storage/outbox.ts";
import { keepThumbnail, photoBytes, withoutThumbnail } from "../storage/photos.ts";
import { usage } from "../storage/quota.ts";
import { whileAwake } from "./awake.ts";
import { call, callForBytes, PHOTO_TIMEOUT_MS } from "./http.ts";
import { SyncTrouble, slugOf } from "./problem.ts";
import { recount } from "./state.ts";

/** Below this much free room on the phone, other phones' pictures are not fetched. */
const MIN_FREE_MB = 200;

/** Send every photograph that waits, oldest first. Throws SyncTrouble when the line fails. */
export async function pushPhotos(): Promise<void> {
	const rows = (await photosWaiting()).filter((row) => row.refused === undefined);
	await whileAwake(rows.length, () => pushAll(rows));
}

async function pushAll(rows: readonly PhotoOutboxRow[]): Promise<void> {
	let damaged: SyncTrouble | null = null;
	for (const row of rows) {
		try {
			await pushPhoto(row);
		} catch (error) {
			// A photograph that is refused must not hold up the others.
			if (!(error instanceof SyncTrouble) || !error.isRefusal) throw error;
			if (wasDamagedOnTheWay(error)) damaged = error;
			else await photoRefused(row, error.problem.todo);
		}
		await recount();
	}
	if (damaged) throw damaged;
}

/** Fetch the thumbnails that this phone lacks, so that it can show them with no signal. */
export async function pullThumbnails(): Promise<void> {
	const { freeMb } = await usage();
	if (freeMb !== null && freeMb < MIN_FREE_MB) return;
	const digests = [...boat.table("photo").value.values()].flatMap((photo) => photo.sha256 ?? []);
	for (const sha256 of await withoutThumbnail(digests)) {
		try {
			await keepThumbnail(sha256, await callForBytes(`/api/photos/${sha256}/thumbnail`));
		} catch (error) {
			// The photograph itself may still wait on the other phone.
			if (!(error instanceof SyncTrouble) || !error.isRefusal) throw error;
		}
	}
}

function wasDamagedOnTheWay({ answer }: SyncTrouble): boolean {
	return answer !== null && ["photo-cut-short", "photo-digest"].includes(slugOf(answer));
}

async function pushPhoto(row: PhotoOutboxRow): Promise<void> {
	const photo = await photoBytes(row.sha256);
	// Without bytes there is nothing to send; the row stays, so that it is seen.
	if (!photo) return;
	const answer = await call<{ sha256?: unknown }>(`/api/photos/${row.sha256}`, {
		method: "PUT",
		body: photo,
		timeoutMs: PHOTO_TIMEOUT_MS,
	});
	if (answer?.sha256 !== row.sha256) throw new SyncTrouble("server trouble");
	await photoArrived(row.sha256);
}

/** Send photographs now, though the line may cost money; until the queue is empty. */
export async function sendPhotosAnyway(): Promise<void> {}
