/** Everything that is on this phone only, as one file: the way out when the server is gone. */
import type { Change } from "../domain/change.ts";
import { readStores } from "../storage/db.ts";
import { photosWaiting, unsentChanges } from "../storage/outbox.ts";
import { photoBytes } from "../storage/photos.ts";
import { session } from "./session.ts";

export interface UnsentFile {
	readonly format: "shedtally-unsent";
	readonly version: 1;
	readonly device: string;
	readonly device_name: string;
	readonly server: string | null;
	readonly made_at: string;
	readonly changes: readonly (Change & { readonly boat: string })[];
	/** Bytes in base64. */
	readonly photos: readonly { sha256: string; type: string; base64: string }[];
}

/**
 * The file, to be shared or saved; needs neither server nor pairing. Throws StorageLost.
 *
 * Photographs are added one by one as parts of the file, so that it may be larger than memory.
 */
export async function exportUnsent(): Promise<Blob> {
	const { device, deviceName, server } = session.value;
	const head = {
		format: "shedtally-unsent",
		version: 1,
		device,
		device_name: deviceName,
		server,
		made_at: new Date().toISOString(),
		changes: await readStores(["outbox", "rejected", "change"], unsentChanges),
	} satisfies Omit<UnsentFile, "photos">;
	const parts = [`${JSON.stringify(head).slice(0, -1)},"photos":[`];
	const blobs: Blob[] = [];
	for (const { sha256 } of await photosWaiting()) {
		const photo = await photoBytes(sha256);
		if (!photo) continue;
		const comma = blobs.length > 0 ? "," : "";
		const row = { sha256, type: photo.type, base64: base64(new Uint8Array(photo.bytes)) };
		blobs.push(new Blob([comma + JSON.stringify(row)]));
	}
	return new Blob([...parts, ...blobs, "]}"], { type: "application/json" });
}

function base64(bytes: Uint8Array): string {
	const step = 0x8000;
	let text = "";
	for (let at = 0; at < bytes.length; at += step) {
		text += String.fromCharCode(...bytes.subarray(at, at + step));
	}
	return btoa(text);
}
