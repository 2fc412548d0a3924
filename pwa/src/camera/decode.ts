/**
 * Reads QR codes from pictures with two decoders in turn.
 *
 * Each fails on pictures that the other reads: over dirty tags either of the two reads more than
 * one alone. The WebAssembly one looks at every frame, the plain one at every third.
 */
import decodeQr from "qr/decode.js";
import { prepareZXingModule, type ReaderOptions, readBarcodes } from "zxing-wasm/reader";
import wasmUrl from "zxing-wasm/reader/zxing_reader.wasm?url";

const OPTIONS: ReaderOptions = {
	formats: ["QRCode"],
	tryHarder: true,
	tryRotate: true,
	tryInvert: false,
	tryDownscale: true,
	maxNumberOfSymbols: 4,
};

const EVERY_THIRD = 3;

let wasm: Promise<unknown> | null = null;

/** Load the decoder. Throws if it can't be loaded; the next call tries again. */
export async function prepare(): Promise<void> {
	wasm ??= prepareZXingModule({
		// Without this it would be fetched from somebody else's server.
		overrides: { locateFile: () => new URL(wasmUrl, self.location.href).href },
		fireImmediately: true,
	}).catch((error: unknown) => {
		wasm = null;
		throw error;
	});
	await wasm;
}

/** The texts of all codes in the `frame`-th picture, best first; empty if none is read. */
export async function readCodes(image: ImageData, frame: number): Promise<string[]> {
	const texts = await withWasm(image);
	if (texts.length > 0) return texts;
	// Without the WebAssembly decoder the plain one has to look at every picture.
	if (wasm !== null && frame % EVERY_THIRD !== 0) return [];
	return withPlain(image);
}

async function withWasm(image: ImageData): Promise<string[]> {
	try {
		await prepare();
		const found = await readBarcodes(image, OPTIONS);
		return found.filter(({ isValid, text }) => isValid && text !== "").map(({ text }) => text);
	} catch {
		// The other decoder goes on alone.
		return [];
	}
}

function withPlain({ data, width, height }: ImageData): string[] {
	try {
		return [decodeQr({ data, width, height })];
	} catch {
		// It throws where it finds no code, which is the usual case.
		return [];
	}
}
