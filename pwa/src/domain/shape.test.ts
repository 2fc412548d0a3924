import { describe, expect, it } from "vitest";
import { faults } from "./shape.ts";

const details = (
	table: Parameters<typeof faults>[0],
	set: Parameters<typeof faults>[1],
): string[] => faults(table, set).map(({ field, detail }) => `${field} ${detail}`);

describe("what a field may hold", () => {
	it.each([
		["item", { mass_kg: -1 }, "mass_kg must lie from 0 to 100000 kg"],
		["item", { mass_kg: Number.NaN }, "mass_kg must be a number"],
		["item", { count: 1.5 }, "count must be a whole number"],
		[
			"item",
			{ condition: "broken" },
			"condition must be one of: sound, serviceable, worn, failed, unknown",
		],
		["item", { leaking: "yes" }, "leaking must be yes (true) or no (false)"],
		["item", { name: "x".repeat(201) }, "name is longer than 200 characters; shorten it"],
		["item", { name: "a\0b" }, "name holds a character that can't be kept; type it again"],
		[
			"item",
			{ name: "half \ud83d pair" },
			"name holds a character that can't be kept; type it again",
		],
		[
			"item",
			{ out_at: "4.5.2026" },
			"out_at must be a date like 2026-05-04, or a time like 2026-05-04T18:30:00+01:00",
		],
		[
			"item",
			{ out_at: "2026-05-04T18:30:00" },
			"out_at must carry its offset from UTC, like +01:00 or Z",
		],
		["photo", { of: "item" }, "of must name a table and a key, like item/0190..."],
		["before", { first: "place/1" }, "first must belong to one of: item, job, compartment"],
		["photo", { sha256: "abc" }, "sha256 is not in the expected form"],
	] as const)("refuses %s %o", (table, set, wanted) => {
		expect(details(table, set)).toEqual([wanted]);
	});

	it("takes what fits, empties, and what a newer version may know", () => {
		const set = { mass_kg: 12.5, out_at: "2026-05-04T18:30:00.123Z", name: null, polish: "matt" };
		expect(details("item", set)).toEqual([]);
		expect(details("item", { name: "𝔘".repeat(200) })).toEqual([]);
	});
});
