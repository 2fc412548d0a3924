import { describe, expect, it } from "vitest";
import vectors from "../../../fixtures/contract/steps.json" with { type: "json" };
import type { RecordOf, TableName } from "./contract.ts";
import { SHAPES } from "./fields.ts";
import type { RulesForPhone } from "./rules.ts";
import { ringThrough, waitsFor } from "./steps.ts";

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

describe("what open work waits for, as the server says it", () => {
	it.each(vectors.cases)("$name", ({ rows, waits }) => {
		const found = waitsFor(
			{
				items: table("item", rows),
				jobs: table("job", rows),
				befores: table("before", rows),
				compartments: table("compartment", rows),
			},
			rules,
		);
		expect(Object.fromEntries(found)).toEqual(waits);
	});

	it("shows the ring that an order would close, and none where there is none", () => {
		const befores = table("before", [
			order("o", "item/a", "item/b"),
			order("p", "item/b", "item/c"),
		]);
		expect(ringThrough(befores.values(), "item/c", "item/a")).toEqual([
			"item/c",
			"item/a",
			"item/b",
		]);
		expect(ringThrough(befores.values(), "item/a", "item/c")).toEqual([]);
		expect(ringThrough(befores.values(), "item/a", "item/a")).toEqual(["item/a"]);
	});

	it("answers for 20 000 items and 60 000 orders", () => {
		const items = Array.from({ length: 20_000 }, (_, n) => ["item", `${n}`, { name: `Part ${n}` }]);
		let state = 1;
		const upTo = (most: number): number => {
			state = (state * 1_103_515_245 + 12_345) % 2_147_483_648;
			return Math.floor((state / 2_147_483_648) * most);
		};
		const orders = Array.from({ length: 60_000 }, (_, n) => {
			const first = upTo(19_000);
			return order(`${n}`, `item/${first}`, `item/${first + 1 + upTo(900)}`);
		});
		const records = {
			items: table("item", items),
			jobs: table("job", []),
			befores: table("before", orders),
			compartments: table("compartment", []),
		};
		const began = performance.now();
		expect(waitsFor(records, rules).size).toBeGreaterThan(4_000);
		console.info(`waits of 20 000 items: ${Math.round(performance.now() - began)} ms`);
	});
});

function order(key: string, first: string, next: string): [string, string, object] {
	return ["before", key, { first, then: next }];
}
