import { describe, expect, it } from "vitest";
import { fitted } from "./picture.ts";
import { looksLike, sizeOf } from "./sniff.ts";

const bytes = (...parts: (string | number[])[]): Uint8Array =>
	new Uint8Array(
		parts.flatMap((part) =>
			typeof part === "string" ? [...part].map((sign) => sign.charCodeAt(0)) : part,
		),
	);

/** A JPEG with a frame of 4000 by 3000, a scan, and whatever follows. */
const jpeg = (...tail: number[]): Uint8Array =>
	bytes(
		[0xff, 0xd8, 0xff, 0xe0, 0, 4, 1, 2],
		[0xff, 0xc2, 0, 11, 8, 0x0b, 0xb8, 0x0f, 0xa0, 1, 1, 0x11, 0],
		[0xff, 0xda, 0, 8, 1, 1, 0, 0, 63, 0, 7, 7],
		tail,
	);

const PNG = [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a];
const png = (...more: (string | number[])[]): Uint8Array =>
	bytes(
		PNG,
		[0, 0, 0, 13],
		"IHDR",
		[0, 0, 0x46, 0x50, 0, 0, 0x2e, 0xe0, 8, 2, 0, 0, 0],
		[0, 0, 0, 0],
		...more,
	);

describe("what a file is", () => {
	it("knows a whole JPEG and its size before decoding it", () => {
		expect(looksLike(jpeg(0xff, 0xd9))).toEqual({ type: "image/jpeg", cut: false });
		expect(sizeOf(jpeg(0xff, 0xd9))).toEqual({ width: 4_000, height: 3_000 });
	});

	it("takes what a phone appends after the picture", () => {
		expect(looksLike(jpeg(0xff, 0xd9, 1, 2, 3))?.cut).toBe(false);
	});

	it("notices a JPEG that breaks off, in its data or before", () => {
		expect(looksLike(jpeg(5, 6, 7))?.cut).toBe(true);
		expect(looksLike(jpeg().subarray(0, 20))?.cut).toBe(true);
	});

	it("knows a PNG, its size, and whether its end is there", () => {
		expect(looksLike(png([0, 0, 0, 0], "IEND", [0, 0, 0, 0]))).toEqual({
			type: "image/png",
			cut: false,
		});
		expect(looksLike(png())?.cut).toBe(true);
		expect(sizeOf(png())).toEqual({ width: 18_000, height: 12_000 });
	});

	it("takes no page, no text and no other picture for a picture", () => {
		expect(looksLike(bytes("<!doctype html><html>"))).toBeNull();
		expect(looksLike(bytes("GIF89a"))).toBeNull();
		expect(looksLike(bytes("<svg xmlns="))).toBeNull();
		expect(looksLike(new Uint8Array())).toBeNull();
	});

	it("knows HEIC by its brand", () => {
		expect(looksLike(bytes([0, 0, 0, 24], "ftypheic"))?.type).toBe("image/heic");
		expect(looksLike(bytes([0, 0, 0, 24], "ftypisom"))).toBeNull();
	});
});

describe("the size that is kept", () => {
	it("fits the long edge and never grows", () => {
		expect(fitted(4_000, 3_000, 2_048)).toEqual({ width: 2_048, height: 1_536 });
		expect(fitted(300, 4_000, 2_048)).toEqual({ width: 154, height: 2_048 });
		expect(fitted(640, 480, 2_048)).toEqual({ width: 640, height: 480 });
		expect(fitted(10_000, 1, 320)).toEqual({ width: 320, height: 1 });
	});
});
