import { expect, it } from "vitest";
import vectors from "../../../fixtures/contract/steps.json" with { type: "json" };
import { waitsAnew } from "../testing/steps-anew.ts";
import type { RecordOf, TableName, Values } from "./contract.ts";
import { madeFrom } from "./differences.ts";
import { SHAPES } from "./fields.ts";
import { OpenWork } from "./openWork.ts";
import type { RulesForPhone } from "./rules.ts";

const rules = vectors.rules as unknown as RulesForPhone;
const KINDS = [...rules.kinds.map(({ id }) => id), null];
const SYSTEMS = [...rules.systems.map(({ id }) => id), null, null];
const TASKS = ["make safe", "make safe", "scrape", "grind", "other"];
const ITEMS = keys("i", 9);
const JOBS = keys("j", 5);
const PLACES = keys("c", 4);
const BEFORES = keys("b", 14);

type Tables = {
	items: Map<string, RecordOf<"item">>;
	jobs: Map<string, RecordOf<"job">>;
	befores: Map<string, RecordOf<"before">>;
	compartments: Map<string, RecordOf<"compartment">>;
};

/** Every change that a person, or another phone, can make of what the answer is made from. */
class Hand {
	private state: number;
	constructor(seed: number) {
		this.state = seed;
	}

	upTo(most: number): number {
		this.state = (this.state * 1_103_515_245 + 12_345) % 2_147_483_648;
		return Math.floor((this.state / 2_147_483_648) * most);
	}

	one<T>(of: readonly T[]): T {
		return of[this.upTo(of.length)] as T;
	}

	change(tables: Tables): void {
		const sort = this.upTo(10);
		if (sort < 5) this.item(tables.items);
		else if (sort < 6) this.job(tables.jobs);
		else if (sort < 9) this.before(tables.befores);
		else this.compartment(tables.compartments);
	}

	private item(items: Tables["items"]): void {
		const key = this.one(ITEMS);
		if (this.upTo(10) === 0) items.delete(key);
		else
			items.set(key, {
				...(items.get(key) ?? empty("item", key)),
				...this.one<Values>([
					{ whereabouts: this.one(["ashore", "gone", "aboard", null]) },
					{ name: this.one(["Tank", "Board", null]) },
					{ compartment: this.one([...PLACES, null, "elsewhere"]) },
					{ kind: this.one(KINDS) },
					{ system: this.one(SYSTEMS) },
					{ never_aboard: this.one([true, null, null]) },
				]),
			} as unknown as RecordOf<"item">);
	}

	private job(jobs: Tables["jobs"]): void {
		const key = this.one(JOBS);
		if (this.upTo(8) === 0) jobs.delete(key);
		else
			jobs.set(key, {
				...(jobs.get(key) ?? empty("job", key)),
				...this.one<Values>([
					{ done_at: this.one(["2026-09-01", null, null]) },
					{ task: this.one(TASKS), system: this.one(SYSTEMS) },
					{ compartment: this.one([...PLACES, null]) },
					{ name: this.one(["Scrape it", null]), sparks: this.one([true, false, null]) },
				]),
			} as unknown as RecordOf<"job">);
	}

	private before(befores: Tables["befores"]): void {
		const key = this.one(BEFORES);
		if (this.upTo(3) === 0) befores.delete(key);
		else
			befores.set(key, {
				...empty("before", key),
				first: this.target(),
				then: this.target(),
			} as unknown as RecordOf<"before">);
	}

	private target(): string | null {
		const sort = this.upTo(12);
		if (sort === 0) return null;
		if (sort < 7) return `item/${this.one(ITEMS)}`;
		if (sort < 9) return `job/${this.one(JOBS)}`;
		return `compartment/${this.one(PLACES)}`;
	}

	private compartment(compartments: Tables["compartments"]): void {
		const key = this.one(PLACES);
		const record = compartments.get(key) ?? empty("compartment", key);
		if (this.upTo(6) === 0) compartments.delete(key);
		else
			compartments.set(key, {
				...record,
				name: this.one(["Bilge", "Saloon", null]),
				within: this.one([...PLACES, null, null]),
			} as RecordOf<"compartment">);
	}
}

it.each([1, 2, 3, 4])("says after each change what is worked out anew: %i", (seed) => {
	const hand = new Hand(seed);
	let tables: Tables = {
		items: new Map(),
		jobs: new Map(),
		befores: new Map(),
		compartments: new Map(),
	};
	let work = new OpenWork(tables, rules);
	let rings = 0;
	for (let turn = 0; turn < 800; turn++) {
		tables = changed(tables, hand);
		work = work.after(tables, rules);
		const anew = waitsAnew(tables, rules);
		expect([...work.waiting()].sort(byTarget)).toEqual([...anew].sort(byTarget));
		if (work.ringNames().length > 0) rings += 1;
	}
	// Or the rings would not be looked at.
	expect(rings).toBeGreaterThan(50);
});

it("taking out makes nothing unready, and nothing is ready while what comes before is open", () => {
	const hand = new Hand(11);
	let tables: Tables = {
		items: new Map(),
		jobs: new Map(),
		befores: new Map(),
		compartments: new Map(),
	};
	let taken = 0;
	for (let turn = 0; turn < 1_000; turn++) {
		tables = changed(tables, hand);
		const work = new OpenWork(tables, rules);
		const aboard = [...tables.items.values()].filter(
			({ whereabouts, never_aboard }) => whereabouts === null && !never_aboard,
		);
		const ready = aboard.filter(({ key }) => work.waitsOf(`item/${key}`).length === 0);
		for (const { first, then } of tables.befores.values())
			if (first?.startsWith("item/") && aboard.some(({ key }) => `item/${key}` === first))
				expect(ready.map(({ key }) => `item/${key}`)).not.toContain(then);
		const one = ready[hand.upTo(ready.length)];
		if (!one) continue;
		taken += 1;
		const items = new Map(tables.items).set(one.key, { ...one, whereabouts: "ashore" });
		const later = work.after({ ...tables, items }, rules);
		for (const { key } of ready) expect(later.waitsOf(`item/${key}`)).toEqual([]);
	}
	expect(taken).toBeGreaterThan(150);
});

function changed(tables: Tables, hand: Hand): Tables {
	const next: Tables = {
		items: new Map(tables.items),
		jobs: new Map(tables.jobs),
		befores: new Map(tables.befores),
		compartments: new Map(tables.compartments),
	};
	for (let times = 0; times <= hand.upTo(3); times++) hand.change(next);
	return {
		items: same(tables.items, next.items),
		jobs: same(tables.jobs, next.jobs),
		befores: same(tables.befores, next.befores),
		compartments: same(tables.compartments, next.compartments),
	};
}

/** A table that nothing was changed in stays the same map, as in the app. */
function same<R>(was: Map<string, R>, now: Map<string, R>): Map<string, R> {
	const alike = was.size === now.size && [...now].every(([key, record]) => was.get(key) === record);
	if (alike) return was;
	// As the app says it, or not at all: both ways of finding what changed must find all of it.
	if (now.size % 2) madeFrom(now, was, [...ITEMS, ...JOBS, ...BEFORES, ...PLACES]);
	return now;
}

function byTarget(a: readonly [string, unknown], b: readonly [string, unknown]): number {
	return a[0] < b[0] ? -1 : 1;
}

function empty(table: TableName, key: string): object {
	return { ...Object.fromEntries(Object.keys(SHAPES[table]).map((name) => [name, null])), key };
}

function keys(letter: string, count: number): string[] {
	return Array.from({ length: count }, (_, at) => `${letter}${at}`);
}
