/**
 * What a file is by its first bytes, whatever its name says; and whether it breaks off.
 *
 * Browsers show a picture that breaks off as if it were whole, grey below, so its end is looked
 * at here. Size is read before decoding, since decoding 200 megapixels ends the page.
 */

export interface Sort {
	readonly type: "image/jpeg" | "image/png" | "image/webp" | "image/heic";
	/** True if the file ends before the picture does. */
	readonly cut: boolean;
}

/** The sort of picture in `bytes`; null if it is none that is accepted. */
export function looksLike(bytes: Uint8Array): Sort | null {
	if (starts(bytes, 0, [0xff, 0xd8, 0xff])) return { type: "image/jpeg", cut: jpegIsCut(bytes) };
	if (starts(bytes, 0, [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a])) {
		return { type: "image/png", cut: !hasPngEnd(bytes) };
	}
	if (word(bytes, 0) === "RIFF" && word(bytes, 8) === "WEBP") {
		return { type: "image/webp", cut: view(bytes).getUint32(4, true) + 8 > bytes.length };
	}
	const brand = word(bytes, 4) === "ftyp" ? word(bytes, 8) : "";
	const isHeic = ["heic", "heix", "hevc", "heim", "heis", "mif1", "msf1"].includes(brand);
	return isHeic ? { type: "image/heic", cut: false } : null;
}

/** Width and height as the file declares them; null where they are not found. */
export function sizeOf(bytes: Uint8Array): { width: number; height: number } | null {
	const kind = looksLike(bytes)?.type;
	if (kind === "image/png" && bytes.length >= 24) {
		return { width: view(bytes).getUint32(16), height: view(bytes).getUint32(20) };
	}
	if (kind === "image/jpeg") return jpegSize(bytes);
	return kind === "image/webp" ? webpSize(bytes) : null;
}

function jpegSize(bytes: Uint8Array): { width: number; height: number } | null {
	for (const { marker, at } of jpegSegments(bytes)) {
		const isFrame = marker >= 0xc0 && marker <= 0xcf && ![0xc4, 0xc8, 0xcc].includes(marker);
		if (isFrame && at + 9 <= bytes.length) {
			return { height: view(bytes).getUint16(at + 5), width: view(bytes).getUint16(at + 7) };
		}
	}
	return null;
}

/** Each segment up to the first scan, `at` its marker. */
function* jpegSegments(bytes: Uint8Array): Generator<{ marker: number; at: number }> {
	let at = 2;
	while (at + 4 <= bytes.length && bytes[at] === 0xff) {
		const marker = bytes[at + 1] ?? 0;
		if (marker === 0xff) {
			at += 1;
			continue;
		}
		yield { marker, at };
		if (marker === 0xda) return;
		at += 2 + view(bytes).getUint16(at + 2);
	}
}

function jpegIsCut(bytes: Uint8Array): boolean {
	let scan = -1;
	for (const { marker, at } of jpegSegments(bytes)) if (marker === 0xda) scan = at;
	if (scan < 0) return true;
	// Phones append video and depth data after the picture, so its end mark may stand far from
	// the file's end. Within the picture data FF D9 can't occur by chance.
	for (let at = bytes.length - 2; at > scan; at--) {
		if (bytes[at] === 0xff && bytes[at + 1] === 0xd9) return false;
	}
	return true;
}

function hasPngEnd(bytes: Uint8Array): boolean {
	let at = 8;
	while (at + 12 <= bytes.length) {
		if (word(bytes, at + 4) === "IEND") return true;
		at += 12 + view(bytes).getUint32(at);
	}
	return false;
}

function webpSize(bytes: Uint8Array): { width: number; height: number } | null {
	if (bytes.length < 30) return null;
	const data = view(bytes);
	switch (word(bytes, 12)) {
		case "VP8X":
			return { width: 1 + uint24(bytes, 24), height: 1 + uint24(bytes, 27) };
		case "VP8L": {
			const bits = data.getUint32(21, true);
			return { width: 1 + (bits & 0x3fff), height: 1 + ((bits >> 14) & 0x3fff) };
		}
		case "VP8 ":
			return {
				width: data.getUint16(26, true) & 0x3fff,
				height: data.getUint16(28, true) & 0x3fff,
			};
		default:
			return null;
	}
}

function starts(bytes: Uint8Array, at: number, wanted: readonly number[]): boolean {
	return wanted.every((byte, offset) => bytes[at + offset] === byte);
}

function word(bytes: Uint8Array, at: number): string {
	return String.fromCharCode(...bytes.subarray(at, at + 4));
}

function uint24(bytes: Uint8Array, at: number): number {
	return (bytes[at] ?? 0) + (bytes[at + 1] ?? 0) * 0x100 + (bytes[at + 2] ?? 0) * 0x10000;
}

function view(bytes: Uint8Array): DataView {
	return new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
}
