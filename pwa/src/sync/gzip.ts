/** Makes what is sent smaller, where the browser can (Safari from 16.4, Firefox from 113). */

/** Below this, packing saves nothing worth the while. */
const WORTH_IT = 1_000;

/** `text` packed as gzip, or null where that is not possible or not worth it. */
export async function gzipped(text: string): Promise<Uint8Array<ArrayBuffer> | null> {
	if (text.length < WORTH_IT || typeof CompressionStream === "undefined") return null;
	const packed = new Blob([text]).stream().pipeThrough(new CompressionStream("gzip"));
	return new Uint8Array(await new Response(packed).arrayBuffer());
}
