import { describe, expect, it } from "vitest";
import type { Price, RunLength } from "./contract.ts";
import { mixedMoney, offerAsks, tooLong } from "./offers.ts";

function offer(values: Partial<Price>): Price {
	const nothing = { key: "p", binned: null, spec: "line", supplier: null, pieces: null };
	const more = { amount: 10, currency: "EUR", per: "metre" as const, length_mm: null };
	return { ...nothing, ...more, ...values };
}

function run(name: string, cut_mm: number | null): RunLength {
	const ends = { item: name, name, tags: [], count: 1, ends: [], low_mm: null, high_mm: null };
	return { ...ends, length_mm: cut_mm, cut_mm, how: "measured" };
}

describe("a price that can't be reckoned with", () => {
	it.each([
		[{ currency: null }, "Write the currency"],
		[{ per: "reel" as const }, "how long the reel is"],
		[{ amount: null }, "No price yet"],
		[{ per: "kilogram" as const }, "isn't bought by"],
	])("says what is missing: %o", (values, words) => {
		expect(offerAsks(offer(values), true)).toContain(words);
	});

	it("asks how many are in a pack, and lets one with a number be", () => {
		expect(offerAsks(offer({ per: "pack" }), false)).toContain("how many are in a pack");
		expect(offerAsks(offer({ per: "pack", pieces: 10 }), false)).toBeNull();
		expect(offerAsks(offer({ per: "reel", length_mm: 5000, amount: null }), true)).toBeNull();
	});
});

describe("prices in two currencies", () => {
	const two = [offer({ key: "a" }), offer({ key: "b", currency: "GBP" })];
	it("can't be compared until one is marked", () => {
		expect(mixedMoney(two, null, true)).toContain("EUR and GBP can't be compared");
		expect(mixedMoney(two, "a", true)).toBeNull();
		expect(mixedMoney([two[0] as Price], null, true)).toBeNull();
	});
	it("are not mixed by a reel that has no price yet", () => {
		const bare = offer({ key: "c", currency: "GBP", per: "reel", length_mm: 5000, amount: null });
		expect(mixedMoney([two[0] as Price, bare], null, true)).toBeNull();
	});
	it("are still mixed where the marked one can't be used", () => {
		const broken = offer({ key: "c", currency: null });
		expect(mixedMoney([...two, broken], "c", true)).not.toBeNull();
	});
});

describe("a run longer than any reel", () => {
	const reel = offer({ per: "reel", length_mm: 5000 });
	it("is named, with the way out", () => {
		const said = tooLong([run("Fuel line", 6200), run("Vent", 1000)], [reel]);
		expect(said).toContain("“Fuel line” is longer than any reel here: 6.20 m");
		expect(said).toContain("two runs");
	});
	it("is no trouble where it is sold by the metre, or nothing is sold yet", () => {
		expect(tooLong([run("Fuel line", 6200)], [reel, offer({ key: "m" })])).toBeNull();
		expect(tooLong([run("Fuel line", 6200)], [])).toBeNull();
		expect(tooLong([run("Fuel line", 5000), run("not known", null)], [reel])).toBeNull();
	});
});
