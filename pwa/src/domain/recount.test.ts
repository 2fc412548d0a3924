import { describe, expect, it } from "vitest";
import type { Item } from "./contract.ts";
import { read } from "./read.ts";
import { heldByPlace, tallyByCompartment, tallyBySystem, tallyOf } from "./recount.ts";

let made = 0;

function item(set: Parameters<typeof read>[2]): Item {
	made += 1;
	return read("item", `i${made}`, set);
}

describe("what is left, counted on the phone", () => {
	it("counts pieces, not records", () => {
		const items = [item({ count: 12, whereabouts: "ashore" }), item({ count: 3 })];
		expect(tallyOf(items)).toEqual({ total: 15, out: 12, left: 3 });
	});

	it("counts what is gone as out, and what nobody has spoken of as aboard", () => {
		expect(tallyOf([item({ whereabouts: "gone" }), item({})])).toEqual({
			total: 2,
			out: 1,
			left: 1,
		});
	});

	it("counts as out what has nothing but the moment it came out, as the server does", () => {
		const out_at = "2026-09-01T10:00:00Z";
		expect(tallyOf([item({ out_at })]).out).toBe(1);
		expect(tallyOf([item({ out_at, whereabouts: "aboard" })]).out).toBe(0);
	});

	it("counts what was put back as out once, as the server does", () => {
		const back_at = "2027-03-01T10:00:00Z";
		expect(tallyOf([item({ back_at, whereabouts: "aboard" })]).out).toBe(1);
	});

	it("keeps items without a compartment in a group of their own", () => {
		const tallies = tallyByCompartment([item({ compartment: "galley" }), item({})]);
		expect(tallies.get("galley")?.left).toBe(1);
		expect(tallies.get(null)?.left).toBe(1);
	});

	it("counts by the item's own system", () => {
		expect(tallyBySystem([item({ system: "fuel" })], null).get("fuel")?.total).toBe(1);
	});
});

describe("what a shelf holds", () => {
	const place = (key: string, within: string | null) =>
		[key, read("place", key, { within })] as const;

	it("counts what lies in the crates on it, and nothing that is gone", () => {
		const places = new Map([place("rack", null), place("shelf", "rack"), place("crate", "shelf")]);
		const items = [
			item({ place: "crate" }),
			item({ place: "crate", whereabouts: "gone" }),
			item({ place: "shelf" }),
			item({}),
		];
		expect(heldByPlace(items, places)).toEqual(
			new Map([
				["crate", 1],
				["shelf", 2],
				["rack", 2],
			]),
		);
	});

	it("ends where two phones put each place into the other", () => {
		const places = new Map([place("a", "b"), place("b", "a")]);
		expect(heldByPlace([item({ place: "a" })], places)).toEqual(
			new Map([
				["a", 1],
				["b", 1],
			]),
		);
	});
});
