import { describe, expect, it } from "vitest";
import vectors from "../../../fixtures/contract/tag.json" with { type: "json" };
import { BadCode, fromScan, likely, numberOf, parse, shown } from "./tag.ts";

function problemOf(work: () => unknown): string {
	try {
		work();
	} catch (error) {
		if (error instanceof BadCode) return error.problem;
		throw error;
	}
	return "none";
}

describe("tag codes, as the server reads them", () => {
	it.each(vectors.parse)("reads $text", ({ text, code }) => {
		expect(parse(text)).toBe(code);
	});

	it.each(vectors.bad)("refuses $text", ({ text, problem }) => {
		expect(problemOf(() => parse(text))).toBe(problem);
	});

	it.each(vectors.from_scan)("reads the scan $text", ({ text, code }) => {
		expect(fromScan(text)).toBe(code);
	});

	it.each(vectors.bad_scan)("refuses the scan $text", ({ text, problem }) => {
		expect(problemOf(() => fromScan(text))).toBe(problem);
	});

	it.each(vectors.likely)("guesses what was meant by $text", ({ text, codes }) => {
		expect(likely(text)).toEqual(codes);
	});

	it.each(vectors.encode)("shows $code in two groups", ({ number, code, shown: grouped }) => {
		expect(shown(code)).toBe(grouped);
		expect(numberOf(code)).toBe(number);
	});

	it("catches every single wrong character", () => {
		for (const sign of "0123456789ABCDEFGHJKMNPQRSTVWXYZ") {
			for (let at = 0; at < 6; at++) {
				const wrong = `${"PFAN94".slice(0, at)}${sign}${"PFAN94".slice(at + 1)}`;
				if (wrong !== "PFAN94")
					expect(
						problemOf(() => parse(wrong)),
						wrong,
					).toBe("check");
			}
		}
	});
});
