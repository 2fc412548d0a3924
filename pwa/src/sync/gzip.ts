/** Makes what is sent smaller, where the browser can (Safari from 16.4, Firefox from 113). */
import { Patience } from "./stall.ts";

/** Below this, packing saves nothing worth the while. */
const WORTH_IT = 1_000;
/** Packing a batch takes milliseconds; one that takes as long as this will never end. */
const TIMEOUT_MS = 5_000;

/** Set once packing did not end here; what it was for has to leave unpacked. */
let hangs = false;

/** `text` packed as gzip, or null where that is not possible or not worth it. */
export async function gzipped(text: string): Promise<Uint8Array<ArrayBuffer> | null> {
	if (text.length < WORTH_IT || hangs || typeof CompressionStream === "undefined") return null;
	const patience = new Patience(TIMEOUT_MS);
	try {
		const packing = new CompressionStream("gzip");
		const into = packing.writable.getWriter();
		// Fails with the reading, which says so.
		into.write(new TextEncoder().encode(text)).catch(() => {});
		into.close().catch(() => {});
		return new Uint8Array(await patience.read(packing.readable));
	} catch {
		hangs = true;
		return null;
	} finally {
		patience.end();
	}
}
