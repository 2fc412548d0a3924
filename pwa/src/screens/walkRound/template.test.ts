import { describe, expect, test } from "vitest";
import type { Survey } from "../../domain/rules.ts";
import { likelyIn, templateEdits } from "./template.ts";

const place = { level: "cabin", side: "centre", likely: [["cleat", 4]] } as const;
const survey: Survey = {
	id: "s",
	name: "A small boat",
	about: "",
	compartments: [
		{ ...place, id: "a", name: "Cabin", within: "", along: [0, 0.5] },
		{ ...place, id: "b", name: "Locker", within: "a", along: [0.1, 0.333] },
		{ ...place, id: "c", name: "Box", within: "b", along: [0.1, 0.2] },
	],
};

function keys(): () => string {
	let at = 0;
	return () => `key ${++at}`;
}

describe("a survey template", () => {
	test("lies along the boat's own length", () => {
		const edits = templateEdits(survey, new Set(), 10, keys());
		expect(edits.map(({ set }) => set)).toMatchObject([
			{ name: "Cabin", from_m: 0, to_m: 5 },
			{ name: "Locker", within: "key 1", from_m: 1, to_m: 3.33 },
			{ name: "Box", within: "key 2", from_m: 1, to_m: 2 },
		]);
	});

	test("says no stations for a boat whose length is not known", () => {
		for (const { set } of templateEdits(survey, new Set(), null, keys()))
			expect(set).not.toHaveProperty("from_m");
	});

	test("puts what lay in a struck compartment into the one around it", () => {
		const edits = templateEdits(survey, new Set(["b"]), 10, keys());
		expect(edits.map(({ set }) => set)).toMatchObject([
			{ name: "Cabin" },
			{ name: "Box", within: "key 1" },
		]);
	});

	test("knows what a compartment of its name usually holds", () => {
		expect(likelyIn([survey], " cabin ")).toEqual([["cleat", 4]]);
		expect(likelyIn([survey], "Attic")).toEqual([]);
	});
});
