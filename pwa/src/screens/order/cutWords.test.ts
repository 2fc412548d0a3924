import { describe, expect, it } from "vitest";
import type { CutSheet } from "../../domain/contract.ts";
import { nearness } from "./cutWords.ts";

const PIECE = { item: "i", name: "Hose", tags: [], length_mm: 5040, ends: [], by_measure: true };
const REEL = {
	name: "Quay",
	length_mm: 25_000,
	from_shed: false,
	pieces: [PIECE],
	kerf_mm: 2,
	left_mm: 19_958,
};
const SHED = { ...REEL, name: "", length_mm: 6000, from_shed: true, left_mm: 958 };

function sheet(set: Partial<CutSheet>): CutSheet {
	return {
		stock: [],
		by_metre: [],
		too_long: [],
		cost: null,
		bound: null,
		currency: "",
		bought_mm: 0,
		least_mm: 0,
		proven: true,
		kerf_mm: 2,
		...set,
	};
}

const BOUGHT = { stock: [REEL], bought_mm: 25_000 };
const PRICED = { ...BOUGHT, currency: "EUR", cost: 55 };

describe("what the phone says of a cut plan, as the printed sheet does", () => {
	it.each<[Partial<CutSheet>, string]>([
		[{ too_long: [PIECE] }, "holds these runs: nothing is cut"],
		[{ stock: [SHED] }, "Nothing must be bought: what lies in the shed is enough."],
		[{ stock: [SHED], too_long: [PIECE] }, "The runs that nothing holds are left out."],
		[{ ...BOUGHT, least_mm: 25_000 }, "No shorter purchase is possible."],
		[{ ...BOUGHT, currency: "EUR" }, "No cheaper purchase is possible."],
		[
			{ ...BOUGHT, currency: "EUR", bound: 54, too_long: [PIECE], proven: false },
			"Whether a cheaper purchase is possible is open. The runs that nothing holds",
		],
		[
			{ ...BOUGHT, least_mm: 24_000, proven: false },
			"This one is at most 4.2 % longer than the shortest purchase could be.",
		],
		[{ ...PRICED, bound: 55 }, "No plan costs less than 55.00 EUR: this is the cheapest."],
		[
			{ ...PRICED, bound: 54.99, proven: false },
			"than 54.99 EUR. This one is at most 0.1 % dearer than the cheapest could be.",
		],
		[{ ...PRICED, bound: 0, proven: false }, "for less than 55.00 EUR is open."],
	])("%o", (set, said) => {
		expect(nearness(sheet(set))).toContain(said);
	});
});
