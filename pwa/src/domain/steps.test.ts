import { describe, expect, it } from "vitest";
import vectors from "../../../fixtures/contract/steps.json" with { type: "json" };
import type { RecordOf, TableName } from "./contract.ts";
import { SHAPES } from "./fields.ts";
import { OpenWork } from "./openWork.ts";
import type { RulesForPhone } from "./rules.ts";
import { ringThrough } from "./steps.ts";

const rules = vectors.rules as unknown as RulesForPhone;

/** The records of a case by key, with every field that was not given empty. */
function table<T extends TableName>(
	name: T,
	rows: readonly unknown[],
): ReadonlyMap<string, RecordOf<T>> {
	const none = Object.fromEntries(Object.keys(SHAPES[name]).map((field) => [field, null]));
	return new Map(
		(rows as readonly [string, string, object][])
			.filter(([of]) => of === name)
			.map(([, key, values]) => [key, { ...none, ...values, key } as unknown as RecordOf<T>]),
	);
}

const NONE = {
	items: table("item", []),
	jobs: table("job", []),
	befores: table("before", []),
	compartments: table("compartment", []),
};

describe("what open work waits for, as the server says it", () => {
	it.each(vectors.cases)("$name", ({ rows, waits }) => {
		const work = new OpenWork(
			{
				items: table("item", rows),
				jobs: table("job", rows),
				befores: table("before", rows),
				compartments: table("compartment", rows),
			},
			rules,
		);
		expect(Object.fromEntries(work.waiting())).toEqual(waits);
	});

	it("shows the ring that an order would close, and none where there is none", () => {
		const befores = table("before", [
			order("o", "item/a", "item/b"),
			order("p", "item/b", "item/c"),
		]);
		const records = { ...NONE, befores };
		expect(ringThrough(records, "item/c", "item/a")).toEqual(["item/c", "item/a", "item/b"]);
		expect(ringThrough(records, "item/a", "item/c")).toEqual([]);
		expect(ringThrough(records, "item/a", "item/a")).toEqual(["item/a"]);
	});

	it("shows a ring that goes through a compartment", () => {
		const records = {
			items: table("item", [
				["item", "board", { name: "Board" }],
				["item", "tank", { name: "Tank", compartment: "bilge" }],
			]),
			jobs: table("job", [["job", "scrape", { task: "scrape", compartment: "below" }]]),
			befores: table("before", [
				order("o", "item/board", "compartment/bilge"),
				order("p", "compartment/bilge", "job/clean"),
			]),
			compartments: table("compartment", [
				["compartment", "bilge", { name: "Bilge" }],
				["compartment", "below", { name: "Below", within: "bilge" }],
			]),
		};
		expect(ringThrough(records, "item/tank", "item/board")).toEqual([
			"item/tank",
			"item/board",
			"compartment/bilge",
		]);
		expect(ringThrough(records, "job/clean", "job/scrape")).toEqual([
			"job/clean",
			"job/scrape",
			"empty/bilge",
		]);
		// The compartment itself on either side, through what lies in it.
		expect(ringThrough(records, "compartment/bilge", "item/board")).toEqual([
			"empty/bilge",
			"item/board",
			"compartment/bilge",
			"item/tank",
		]);
		expect(ringThrough(records, "item/board", "item/tank")).toEqual([]);
	});
});

function order(key: string, first: string, next: string): [string, string, object] {
	return ["before", key, { first, then: next }];
}
