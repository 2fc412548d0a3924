import { describe, expect, test } from "vitest";
import type { Compartment, Item } from "../../domain/contract.ts";
import type { Survey } from "../../domain/rules.ts";
import { likelyIn, listedCount, surveyOrders, templateEdits } from "./template.ts";

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

const all = { struck: new Set<string>(), listing: false };

const ordered: Survey = {
	...survey,
	id: "o",
	compartments: [
		{
			...place,
			id: "a",
			name: "Cabin",
			within: "",
			along: [0, 1],
			likely: [
				["cushion", 2],
				["bunk", 1],
			],
		},
		{ ...place, id: "b", name: "Under", within: "a", along: [0, 1], likely: [["tank", 1]] },
	],
	orders: [
		{ first: "a/cushion", then: "a/bunk", why: "They lie on it" },
		{ first: "a/bunk", then: "b/tank", why: "It lies over the tank" },
	],
};

function keys(): () => string {
	let at = 0;
	return () => `key ${++at}`;
}

describe("a survey template", () => {
	test("lies along the boat's own length", () => {
		const edits = templateEdits(survey, all, 10, keys());
		expect(edits.map(({ set }) => set)).toMatchObject([
			{ name: "Cabin", from_m: 0, to_m: 5 },
			{ name: "Locker", within: "key 1", from_m: 1, to_m: 3.33 },
			{ name: "Box", within: "key 2", from_m: 1, to_m: 2 },
		]);
	});

	test("says no stations for a boat whose length is not known", () => {
		for (const { set } of templateEdits(survey, all, null, keys()))
			expect(set).not.toHaveProperty("from_m");
	});

	test("puts what lay in a struck compartment into the one around it", () => {
		const edits = templateEdits(survey, { struck: new Set(["b"]), listing: false }, 10, keys());
		expect(edits.map(({ set }) => set)).toMatchObject([
			{ name: "Cabin" },
			{ name: "Box", within: "key 1" },
		]);
	});

	test("knows what a compartment of its name usually holds", () => {
		expect(likelyIn([survey], " cabin ", null)).toEqual([["cleat", 4]]);
		expect(likelyIn([survey], "Attic", null)).toEqual([]);
	});

	test("has its own counts; only a compartment that it doesn't know is asked of the others", () => {
		const larger: Survey = {
			...survey,
			id: "larger",
			compartments: [
				{ ...place, id: "a", name: "Cabin", within: "", along: [0, 1], likely: [["cleat", 9]] },
			],
		};
		expect(likelyIn([survey, larger], "Cabin", "s")).toEqual([["cleat", 4]]);
		expect(likelyIn([survey, larger], "Cabin", "larger")).toEqual([["cleat", 9]]);
		expect(likelyIn([survey, larger], "Cabin", null)).toEqual([["cleat", 9]]);
		expect(likelyIn([survey, larger], "Box", "larger")).toEqual([["cleat", 4]]);
	});

	test("lists what is likely, and the orders among it, only if that is asked", () => {
		const edits = templateEdits(ordered, { struck: new Set(), listing: true }, null, keys());
		expect(edits.map(({ table }) => table)).toEqual([
			..."compartment compartment item item item before before".split(" "),
		]);
		expect(edits[2]?.set).toEqual({
			kind: "cushion",
			compartment: "key 1",
			whereabouts: "aboard",
			count: 2,
		});
		expect(edits[6]?.set).toEqual({
			first: "item/key 4",
			then: "item/key 5",
			why: "It lies over the tank",
		});
		expect(listedCount(ordered, new Set())).toEqual({ pieces: 4, orders: 2 });
		expect(templateEdits(ordered, all, null, keys())).toHaveLength(2);
	});

	test("leaves out items and orders of what is struck", () => {
		const chosen = { struck: new Set(["b"]), listing: true };
		const tables = templateEdits(ordered, chosen, null, keys()).map(({ table }) => table);
		expect(tables).toEqual(["compartment", "item", "item", "before"]);
		expect(listedCount(ordered, chosen.struck)).toEqual({ pieces: 3, orders: 1 });
	});

	test("offers orders among what was listed by hand", () => {
		const compartments = [{ key: "k", name: " cabin" }] as Compartment[];
		const items = [
			{ key: "1", kind: "cushion", compartment: "k" },
			{ key: "2", kind: "bunk", compartment: "k" },
			{ key: "3", kind: "tank", compartment: null },
		] as Item[];
		expect(surveyOrders(ordered, compartments, items)).toEqual([
			{ first: "item/1", then: "item/2", why: "They lie on it" },
		]);
	});
});
