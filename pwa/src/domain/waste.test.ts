import { describe, expect, it } from "vitest";
import vectors from "../../../fixtures/contract/contradictions.json" with { type: "json" };
import type { Item } from "./contract.ts";
import type { KindForPhone, RulesForPhone } from "./rules.ts";
import { asksOf, cautionsOf, contradictionsOf } from "./waste.ts";

const KIND = { id: "battery", waste: "lithium", cautions: ["Heavy."] } as unknown as KindForPhone;
const ASK = { ask: "?", assumed: "damaged", only_in: [] };
const RULES = {
	rule_sets: [
		{ id: "eu", name: "Europe", law: "eu" },
		{ id: "harbour", name: "Harbour", law: "eu", asks: { lithium: [{ ...ASK, field: "note" }] } },
		{ id: "us", name: "States", law: "us" },
	],
	streams: [
		{
			id: "lithium",
			cautions: ["Tape it."],
			asks: [
				{ ...ASK, field: "damaged" },
				{ ...ASK, field: "leaking", only_in: ["us"] },
			],
			answers: [
				{
					field: "damaged",
					values: [true],
					above: null,
					or_unanswered: true,
					stream: "lithium-damaged",
				},
			],
		},
		{ id: "lithium-damaged", cautions: ["Outside."], asks: [], answers: [] },
		{ id: "unsorted", cautions: ["Unknown."], asks: [], answers: [] },
	],
} as unknown as RulesForPhone;

function item(values: object): Item {
	return { key: "k", ...values } as unknown as Item;
}

describe("answers that contradict each other, as the server says it", () => {
	it.each(vectors.cases)("$name", ({ stream, values, fields }) => {
		const found = contradictionsOf(item(values), stream, vectors.rows);
		expect(found.map(({ field }) => field)).toEqual(fields);
	});
});

describe("what is asked of an item", () => {
	const fields = (set: string | null) =>
		asksOf(item({}), KIND, RULES, set).map(({ field }) => field);

	it("is what its stream asks under the rule set, with what the site asks besides", () => {
		expect(fields("eu")).toEqual(["damaged"]);
		expect(fields("us")).toEqual(["damaged", "leaking"]);
		expect(fields("harbour")).toEqual(["damaged", "note"]);
	});

	it("is everything as long as no rule set was chosen, and nothing before the rules came", () => {
		expect(fields(null)).toEqual(["damaged", "leaking"]);
		expect(asksOf(item({}), KIND, null, "eu")).toEqual([]);
	});
});

describe("cautions where an item is logged", () => {
	it("are those of its kind and of the worst stream that it may belong to", () => {
		expect(cautionsOf(item({}), KIND, RULES)).toEqual(["Heavy.", "Tape it.", "Outside."]);
	});

	it("grow milder with the answer", () => {
		expect(cautionsOf(item({ damaged: false }), KIND, RULES)).toEqual(["Heavy.", "Tape it."]);
	});
});
