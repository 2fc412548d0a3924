import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";

// The contrast ratio is that of WCAG 2.2 ("relative luminance", "contrast ratio"), worked out here
// from the published formula. The figures are those the colours were chosen by.
const tokens = readFileSync(
	new URL("../../../server/shedtally/web/setup_files/tokens.css", import.meta.url),
	"utf8",
);
const [lightText = "", darkText = ""] = tokens.split("@media (prefers-color-scheme: dark)");

function colours(css: string): Map<string, string> {
	return new Map(
		[...css.matchAll(/--([a-z-]+):\s*(#[0-9a-f]{6})/g)].map((m) => [m[1] ?? "", m[2] ?? ""]),
	);
}

function luminance(hex: string): number {
	const [r = 0, g = 0, b = 0] = [1, 3, 5]
		.map((at) => Number.parseInt(hex.slice(at, at + 2), 16) / 255)
		.map((c) => (c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4));
	return 0.2126 * r + 0.7152 * g + 0.0722 * b;
}

function contrast(a: string, b: string): number {
	const [high = 0, low = 0] = [luminance(a), luminance(b)].sort((p, q) => q - p);
	return (high + 0.05) / (low + 0.05);
}

const light = colours(lightText);
const dark = colours(darkText);

// name, on paper and on card in the light, on paper and on card in the dark
const TEXT = [
	["ink", 13.0, 14.9, 14.9, 13.0],
	["pencil", 7.8, 8.9, 8.7, 7.6],
	["red-lead", 7.1, 8.1, 8.7, 7.6],
	["verdigris", 7.9, 9.0, 10.1, 8.8],
	["brass", 7.8, 8.9, 10.6, 9.2],
	["slate", 7.3, 8.3, 10.1, 8.8],
] as const;

function ratio(scheme: Map<string, string>, name: string, on: string): number {
	return contrast(scheme.get(name) ?? "", scheme.get(on) ?? "");
}

describe("the palette", () => {
	it("measures black on white as 21 to 1", () => {
		expect(contrast("#000000", "#ffffff")).toBeCloseTo(21, 5);
	});

	it.each(TEXT)("%s has the contrast it was chosen for", (name, lp, lc, dp, dc) => {
		expect(ratio(light, name, "paper")).toBeCloseTo(lp, 0);
		expect(ratio(light, name, "card")).toBeCloseTo(lc, 0);
		expect(ratio(dark, name, "paper")).toBeCloseTo(dp, 0);
		expect(ratio(dark, name, "card")).toBeCloseTo(dc, 0);
	});

	it.each(TEXT)("%s as text reaches 7 to 1 on paper and on card", (name) => {
		for (const scheme of [light, dark])
			for (const on of ["paper", "card"]) expect(ratio(scheme, name, on)).toBeGreaterThanOrEqual(7);
	});

	it("keeps ink and pencil readable on the wash under a blank photograph", () => {
		for (const scheme of [light, dark])
			for (const name of ["ink", "pencil"])
				expect(ratio(scheme, name, "wash")).toBeGreaterThanOrEqual(7);
	});

	it("draws the edge of a field at 3 to 1 or more", () => {
		for (const scheme of [light, dark])
			for (const on of ["paper", "card"])
				expect(ratio(scheme, "edge", on)).toBeGreaterThanOrEqual(3);
	});

	it("writes every colour in both schemes", () => {
		expect([...dark.keys()].sort()).toEqual([...light.keys()].sort());
	});
});
