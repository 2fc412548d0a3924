import { describe, expect, it } from "vitest";
import { daysInWords } from "./words.ts";

describe("a day in a text of the server", () => {
	it("is said in words, each of several", () => {
		expect(daysInWords("Weighed on 2026-11-18, again 2026-12-01: 23.6 kg.")).toBe(
			"Weighed on 18 November 2026, again 1 December 2026: 23.6 kg.",
		);
	});

	it("is not seen in a number or a code", () => {
		for (const text of ["EN 12524:2000", "7H7-4BB", "12026-11-181"])
			expect(daysInWords(text)).toBe(text);
	});
});
