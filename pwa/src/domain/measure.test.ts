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
