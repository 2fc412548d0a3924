/**
 * A picture file into what is kept: upright, at most 2048 px, without position data, with its
 * digest and a thumbnail.
 *
 * The browser turns the picture as its orientation mark says and drops every mark when it writes
 * the new JPEG. One picture at a time: phones have little memory for them.
 */
import { sha256 } from "@noble/hashes/sha2.js";
import { bytesToHex } from "@noble/hashes/utils.js";
import type { KeptPhoto } from "../storage/photos.ts";
import { PictureFault } from "./faults.ts";
import { looksLike, sizeOf } from "./sniff.ts";

const LONG_EDGE_PX = 2_048;
const THUMBNAIL_PX = 320;
const QUALITY = 0.82;
const THUMBNAIL_QUALITY = 0.75;
const MAX_PIXELS = 100_000_000;

type Canvas = OffscreenCanvas | HTMLCanvasElement;

/** A picture file of any size, ready to keep. Throws PictureFault. */
export async function pictureFromFile(file: Blob): Promise<KeptPhoto> {
	const bytes = await file.arrayBuffer().catch(() => {
		throw new PictureFault("unreadable");
	});
	if (bytes.byteLength === 0) throw new PictureFault("empty");
	const sort = looksLike(new Uint8Array(bytes));
	if (sort === null) throw new PictureFault("no picture");
	if (sort.cut) throw new PictureFault("cut off");
	const size = sizeOf(new Uint8Array(bytes));
	if (size && size.width * size.height > MAX_PIXELS) throw new PictureFault("too large");
	let bitmap: ImageBitmap;
	try {
		bitmap = await createImageBitmap(new Blob([bytes], { type: sort.type }), {
			imageOrientation: "from-image",
		});
	} catch {
		throw new PictureFault(sort.type === "image/heic" ? "heic" : "cut off");
	}
	return pictureFromBitmap(bitmap);
}

/** A decoded picture, ready to keep; the bitmap is closed. Throws PictureFault. */
export async function pictureFromBitmap(bitmap: ImageBitmap): Promise<KeptPhoto> {
	try {
		if (bitmap.width * bitmap.height > MAX_PIXELS) throw new PictureFault("too large");
		const full = await encode(bitmap, LONG_EDGE_PX, QUALITY);
		const small = await encode(bitmap, THUMBNAIL_PX, THUMBNAIL_QUALITY);
		return {
			sha256: await digest(full.bytes),
			type: full.type,
			bytes: full.bytes,
			thumbnail: small.bytes,
			width: full.width,
			height: full.height,
		};
	} finally {
		bitmap.close();
	}
}

/** SHA-256 in hex; in plain JavaScript where the browser hides its own (plain http). */
export async function digest(bytes: ArrayBuffer): Promise<string> {
	const subtle = globalThis.crypto?.subtle as SubtleCrypto | undefined;
	const hash = subtle
		? new Uint8Array(await subtle.digest("SHA-256", bytes))
		: sha256(new Uint8Array(bytes));
	return bytesToHex(hash);
}

/** Width and height that fit into `edge` pixels, never larger than the picture, at least 1. */
export function fitted(
	width: number,
	height: number,
	edge: number,
): { width: number; height: number } {
	const scale = Math.min(1, edge / Math.max(width, height));
	return {
		width: Math.max(1, Math.round(width * scale)),
		height: Math.max(1, Math.round(height * scale)),
	};
}

async function encode(
	bitmap: ImageBitmap,
	edge: number,
	quality: number,
): Promise<{ bytes: ArrayBuffer; type: string; width: number; height: number }> {
	const { width, height } = fitted(bitmap.width, bitmap.height, edge);
	const canvas = newCanvas(width, height);
	try {
		const context = canvas.getContext("2d", { alpha: false }) as
			| CanvasRenderingContext2D
			| OffscreenCanvasRenderingContext2D
			| null;
		if (!context) throw new PictureFault("no memory");
		context.imageSmoothingQuality = "high";
		// See-through parts of a PNG would turn black in a JPEG.
		context.fillStyle = "#fff";
		context.fillRect(0, 0, width, height);
		context.drawImage(bitmap, 0, 0, width, height);
		const blob = await toJpeg(canvas, quality);
		if (!blob || blob.size === 0) throw new PictureFault("no memory");
		// Some engines answer with another type than asked for; the type kept must be the true one.
		return { bytes: await blob.arrayBuffer(), type: blob.type, width, height };
	} finally {
		// Frees the pixels at once rather than when the collector comes by.
		canvas.width = 0;
		canvas.height = 0;
	}
}

function newCanvas(width: number, height: number): Canvas {
	if (typeof OffscreenCanvas !== "undefined") return new OffscreenCanvas(width, height);
	return Object.assign(document.createElement("canvas"), { width, height });
}

function toJpeg(canvas: Canvas, quality: number): Promise<Blob | null> {
	if ("convertToBlob" in canvas) return canvas.convertToBlob({ type: "image/jpeg", quality });
	return new Promise((resolve) => canvas.toBlob(resolve, "image/jpeg", quality));
}
