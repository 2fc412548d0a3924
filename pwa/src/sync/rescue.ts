/**
 * The rescue file: all that was written and photographed on this phone, in one archive.
 *
 * Also what the server has acknowledged, and what this phone holds of others' changes: the
 * server's disk may have been lost since, and a phone that is shut out does not hear of that.
 * What a server has already does no harm.
 *
 * It needs neither server nor pairing, so it is the way out when the server is gone or has shut
 * this phone out. An owner's phone or the server's terminal brings it in, as this phone's work.
 */
import type { Change } from "../domain/change.ts";
import { readStores } from "../storage/db.ts";
import { readMeta } from "../storage/meta.ts";
import { heldChanges, photosWaiting } from "../storage/outbox.ts";
import { photoBytes } from "../storage/photos.ts";
import { call } from "./http.ts";
import { type SyncTrouble, slugOf } from "./problem.ts";
import { session } from "./session.ts";
import { type ZipPart, ZipWriter, zipPart } from "./zip.ts";

/** The server may work for long on a large file before it answers. */
const IMPORT_TIMEOUT_MS = 10 * 60_000;

/** What the server takes, less some room for the list of changes. */
const MAX_PHOTO_BYTES = 3_800_000_000;

/** `unsent.json` in the archive; the photographs lie beside it, as `photos/SHA256`. */
export interface UnsentFile {
	readonly format: 1;
	/** The server that this phone belongs to; null before the first pairing. */
	readonly server: string | null;
	/** The epoch of the server that the bases count in; null before the first greeting. */
	readonly epoch: string | null;
	readonly device: string;
	readonly device_name: string;
	/** ISO 8601. */
	readonly made_at: string;
	readonly boats: readonly { readonly key: string; readonly name: string }[];
	/** All that this phone holds, as it goes to a server that may have lost it. */
	readonly changes: readonly (Change & { readonly boat: string })[];
	readonly photos: readonly {
		readonly sha256: string;
		readonly type: string;
		readonly bytes: number;
	}[];
}

/** What became of a rescue file that was brought in. */
export interface RescueReport {
	readonly accepted: number;
	/** Here before already. */
	readonly repeated: number;
	readonly rejected: readonly { readonly id: string | null; readonly why: string }[];
	readonly photosKept: number;
	/** Here before already. */
	readonly photosKnown: number;
	readonly photosRefused: readonly { readonly sha256: string; readonly why: string }[];
	/** What in the file could not be read; empty when it was whole. */
	readonly damaged: readonly string[];
}

/**
 * The archive, to be shared or saved. Throws StorageLost; RangeError over 4 GB of photographs.
 *
 * Photographs are read one by one, so that the archive may be larger than the memory.
 */
export async function rescueFile(): Promise<Blob> {
	const now = new Date();
	const zip = new ZipWriter(now);
	const changes = await readStores(["meta", "outbox", "rejected", "change", "block"], heldChanges);
	const photos = await photosToSave(changes.filter((one) => one.device === session.value.device));
	const { server, device, deviceName: device_name, boats } = session.value;
	const epoch = (await readMeta("epoch")) ?? null;
	const unsent: UnsentFile = {
		format: 1,
		server,
		epoch,
		device,
		device_name,
		made_at: now.toISOString(),
		boats,
		changes,
		photos: photos.map(({ sha256, type, part }) => ({ sha256, type, bytes: part.blob.size })),
	};
	// First, so that a file that was cut off still holds it.
	zip.add("unsent.json", zipPart(new TextEncoder().encode(JSON.stringify(unsent, null, 1))));
	for (const { sha256, part } of photos) zip.add(`photos/${sha256}`, part);
	return zip.finish();
}

/** First those that wait; then those of this phone that it still holds, as far as they fit in. */
async function photosToSave(
	changes: readonly Change[],
): Promise<{ sha256: string; type: string; part: ZipPart }[]> {
	const found: { sha256: string; type: string; part: ZipPart }[] = [];
	const waiting = (await photosWaiting()).map(({ sha256 }) => sha256);
	const waits = new Set(waiting);
	let bytes = 0;
	for (const sha256 of new Set([...waiting, ...takenHere(changes)])) {
		// One that the storage does not give back must not hold back the others.
		const photo = await photoBytes(sha256).catch(() => undefined);
		if (!photo) continue;
		const size = photo.bytes.byteLength;
		if (!waits.has(sha256) && bytes + size > MAX_PHOTO_BYTES) continue;
		bytes += size;
		found.push({ sha256, type: photo.type, part: zipPart(new Uint8Array(photo.bytes)) });
	}
	return found;
}

/** The photographs that changes of this phone name, newest first. */
function takenHere(changes: readonly Change[]): string[] {
	const named = changes.filter(({ table }) => table === "photo").map(({ set }) => set.sha256);
	return named.filter((sha256) => typeof sha256 === "string").reverse();
}

/** The report as the server writes it. */
interface RescueAnswer
	extends Pick<RescueReport, "accepted" | "repeated" | "rejected" | "damaged"> {
	readonly photos_kept: number;
	readonly photos_known?: number;
	readonly photos_refused: RescueReport["photosRefused"];
}

/**
 * Bring in the rescue file of any phone, through this phone's pairing. Throws SyncTrouble.
 *
 * `fromOtherServer` says that the person means it, where the phone belonged to another server.
 */
export async function importRescue(file: Blob, fromOtherServer = false): Promise<RescueReport> {
	const answer = await call<RescueAnswer>(
		fromOtherServer ? "/api/rescue?other_server=true" : "/api/rescue",
		{
			method: "POST",
			body: { bytes: file, type: "application/zip" },
			timeoutMs: IMPORT_TIMEOUT_MS,
			onSent: () => {},
		},
	);
	const {
		photos_kept: photosKept,
		photos_known: photosKnown = 0,
		photos_refused: photosRefused,
		...rest
	} = answer;
	return { ...rest, photosKept, photosKnown, photosRefused };
}

/** True if the server asks whether a file of another server's phone is meant to come in. */
export function isOfOtherServer(trouble: SyncTrouble): boolean {
	return trouble.answer !== null && slugOf(trouble.answer) === "rescue-other-server";
}
