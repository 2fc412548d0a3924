import { describe, expect, it } from "vitest";
import vectors from "../../../fixtures/contract/measure.json" with { type: "json" };
import { parseLengthMm, parseMassKg, parseSize, Unreadable } from "./measure.ts";

function answer(work: () => unknown): unknown {
	try {
		return work();
	} catch (error) {
		if (error instanceof Unreadable) return { error: error.message };
		throw error;
	}
}

describe("measures, as the server reads them", () => {
	it.each(vectors.size)("reads or refuses the size $text", ({ text, ...wanted }) => {
		const got = answer(() => parseSize(text));
		if ("error" in wanted) expect(got).toEqual(wanted);
		else {
			expect(got).toEqual({
				...wanted,
				mm: wanted.mm === null ? null : expect.closeTo(wanted.mm ?? Number.NaN, 5),
				mm2: wanted.mm2 === null ? null : expect.closeTo(wanted.mm2 ?? Number.NaN, 5),
			});
		}
	});

	it.each(vectors.length)("reads or refuses the length $text", ({ text, mm, error }) => {
		const got = answer(() => parseLengthMm(text));
		expect(got).toEqual(error === undefined ? expect.closeTo(mm ?? Number.NaN, 5) : { error });
	});

	it.each(vectors.mass)("reads or refuses the mass $text", ({ text, kg, error }) => {
		const got = answer(() => parseMassKg(text));
		expect(got).toEqual(error === undefined ? expect.closeTo(kg ?? Number.NaN, 5) : { error });
	});
});

describe("a length that can't be read", () => {
	it("is answered with a length of the size that was asked for", () => {
		const read = () => parseLengthMm("about ten", undefined, "11.2 m or 37 ft");
		expect(read).toThrow("like 11.2 m or 37 ft");
		expect(() => parseLengthMm("about ten")).toThrow("like 19 mm or 3/4 in");
	});
});
