import { describe, expect, it } from "vitest";
import {
	type Bought,
	newPartEdits,
	newPartOf,
	ownItems,
	stateNow,
	stepEdits,
	tickEdits,
} from "./buying.ts";
import type { Item, Purchase } from "./contract.ts";

const NOW = "2026-11-26T10:00:00Z";

function item(key: string, values: Partial<Item> = {}): Item {
	return { key, kind: "seacock", whereabouts: "ashore", replaces: null, ...values } as Item;
}

function boat(...items: Item[]): Map<string, Item> {
	return new Map(items.map((one) => [one.key, one]));
}

function purchase(values: Partial<Purchase>): Purchase {
	const days = { bought_at: null, arrived_at: null, fitted_at: null };
	return { key: "line", ...days, ...values } as Purchase;
}

const LINE: Bought = {
	id: "line",
	spec: "Seacock, 38 mm",
	kind: "seacock",
	count: 2,
	items: ["a", "b"],
};

describe("the new part in the place of an old one", () => {
	it("is the newest, also of one that was renewed twice", () => {
		const items = boat(
			item("a"),
			item("n1", { replaces: "a" }),
			item("n2", { replaces: "a" }),
			item("n3", { replaces: "n2" }),
		);
		expect(newPartOf(items, "a")?.key).toBe("n3");
		expect(newPartOf(items, "n3")).toBeNull();
	});
	it("is found where two name each other", () => {
		const items = boat(item("a", { replaces: "b" }), item("b", { replaces: "a" }));
		expect(newPartOf(items, "a")?.key).toBe("b");
	});
});

describe("how far a line is", () => {
	const old = [item("a"), item("b")];
	it("leaves out the hoses that clamps are for", () => {
		const clamps = { ...LINE, kind: "hose-clamp" };
		expect(ownItems(clamps, boat(...old))).toEqual([]);
		expect(stateNow(clamps, undefined, boat(...old))).toBe("to buy");
	});
	it("counts those of another kind that is bought as this one", () => {
		const items = boat(item("a"), item("b", { kind: "skin-fitting" }));
		expect(ownItems(LINE, items).map(({ key }) => key)).toEqual(["a", "b"]);
	});
	it("goes by the purchase until every new part is there", () => {
		const one = item("n", { replaces: "a", whereabouts: "aboard" });
		expect(stateNow(LINE, undefined, boat(...old, one))).toBe("to buy");
		const two = item("m", { replaces: "b" });
		expect(stateNow(LINE, undefined, boat(...old, one, two))).toBe("arrived");
		const aboard = item("m", { replaces: "b", whereabouts: "aboard" });
		expect(stateNow(LINE, purchase({ bought_at: NOW }), boat(...old, one, aboard))).toBe("fitted");
	});
});

describe("choosing a step", () => {
	const parts = [item("n", { replaces: "a" }), item("m", { replaces: "b" })];
	it("writes the day, and puts the new parts in with “fitted”", () => {
		const edits = stepEdits(LINE, "arrived", "fitted", NOW, boat(item("a"), item("b"), ...parts));
		expect(edits.map(({ table, key }) => `${table}/${key}`)).toEqual([
			"purchase/line",
			"item/n",
			"item/m",
		]);
		expect(edits[1]?.set).toMatchObject({ whereabouts: "aboard", back_at: NOW });
	});
	it("lays them ashore again only when it comes from “fitted”", () => {
		const aboard = parts.map((part) => ({ ...part, whereabouts: "aboard" as const }));
		const items = boat(item("a"), item("b"), ...aboard);
		expect(stepEdits(LINE, "fitted", "arrived", NOW, items)).toHaveLength(3);
		expect(stepEdits(LINE, "bought", "arrived", NOW, items)).toHaveLength(1);
	});
	it("remembers how many pieces were bought", () => {
		const [edit] = stepEdits(LINE, "to buy", "bought", NOW, boat());
		expect(edit?.set).toMatchObject({ count: 2, bought_at: NOW, arrived_at: null });
	});
});

describe("a new part that has come", () => {
	const make = (old: Item) => ({
		key: "n",
		old,
		name: "Seacock, new",
		code: "AAAAAA",
		place: null,
		now: NOW,
	});
	it("gets its tag, and the line arrives with the last one", () => {
		const items = boat(item("a"), item("b"));
		const first = newPartEdits(make(item("a")), LINE, undefined, items);
		expect(first.map(({ table }) => table)).toEqual(["item", "tag"]);
		expect(first[0]?.set).toMatchObject({ replaces: "a", never_aboard: true, kind: "seacock" });
		const other = boat(item("a"), item("b"), item("m", { replaces: "b" }));
		const last = newPartEdits(make(item("a")), LINE, undefined, other);
		expect(last.at(-1)).toMatchObject({ table: "purchase", set: { arrived_at: NOW } });
	});
	it("is fitted with its line when the last one is ticked, and not after all", () => {
		const parts = [
			item("n", { replaces: "a" }),
			item("m", { replaces: "b", whereabouts: "aboard" }),
		];
		const items = boat(item("a"), item("b"), ...parts);
		const done = tickEdits(parts[0] as Item, true, NOW, LINE, items);
		expect(done.at(-1)).toMatchObject({ table: "purchase", set: { fitted_at: NOW } });
		const undone = tickEdits(parts[1] as Item, false, NOW, LINE, items);
		expect(undone.at(-1)).toMatchObject({ table: "purchase", set: { fitted_at: null } });
	});
});
