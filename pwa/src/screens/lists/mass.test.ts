import { describe, expect, it } from "vitest";
import type { Spread } from "../../domain/contract.ts";
import { spreadParts, spreadWords } from "./Mass.tsx";

function spread(low: number, likely: number, high: number, basis: Spread["basis"]): Spread {
	return { low, likely, high, basis } as Spread;
}

describe("what a mass says of its doubt", () => {
	it("is its range and how it was got", () => {
		expect(spreadParts(spread(40, 50, 62, "guessed"))).toEqual(["40 to 62 kg", "guessed"]);
		expect(spreadWords(spread(40, 50, 62, "guessed"))).toBe("40 to 62 kg, guessed");
	});

	it("is only how it was got where the doubt is too small to be seen", () => {
		expect(spreadParts(spread(15.02, 15.03, 15.04, "weighed"))).toEqual(["weighed"]);
	});

	it("is nothing where there is nothing", () => {
		expect(spreadParts(spread(0, 0, 0, "unknown"))).toEqual([]);
	});
});
