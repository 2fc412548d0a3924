/**
 * What the phone's answer to "what waits for what" takes: run by hand, with Node.
 *
 *     node tests/bench/open_work.ts
 *
 * 20,000 items with 60,000 orders, all of it asked for, as the list of what is left asks. Aim: less
 * than one picture of the screen, 16 ms, for taking out one item; what else a person changes is felt
 * as at once, 100 ms. Copying the table, as the app does, is in it. Prints medians, and the worst.
 */
import vectors from "../../fixtures/contract/steps.json" with { type: "json" };
import type { Before, Item, Job } from "../../pwa/src/domain/contract.ts";
import { madeFrom } from "../../pwa/src/domain/differences.ts";
import { OpenWork } from "../../pwa/src/domain/openWork.ts";
import type { RulesForPhone } from "../../pwa/src/domain/rules.ts";
import type { WorkRecords } from "../../pwa/src/domain/steps.ts";

const ITEMS = 20_000;
const ORDERS = 60_000;
const RUNS = 41;
const AIM_MS = 16;
/** What is felt as at once. */
const OTHERS_MS = 100;

const rules = vectors.rules as unknown as RulesForPhone;
let state = 1;

function upTo(most: number): number {
	state = (state * 1_103_515_245 + 12_345) % 2_147_483_648;
	return Math.floor((state / 2_147_483_648) * most);
}

function record<R>(values: object): R {
	return { whereabouts: null, out_at: null, kind: null, system: null, ...values } as R;
}

function yard(): WorkRecords {
	const items = new Map<string, Item>();
	for (let n = 0; n < ITEMS; n++)
		items.set(`${n}`, record<Item>({ key: `${n}`, name: `Part ${n}`, compartment: `c${n % 200}` }));
	const befores = new Map<string, Before>();
	for (let n = 0; n < ORDERS; n++) {
		const first = upTo(ITEMS - 1_000);
		const then = first + 1 + upTo(900);
		befores.set(`${n}`, { key: `${n}`, first: `item/${first}`, then: `item/${then}` } as Before);
	}
	const safe = { key: "safe", task: "make safe", system: "fuel", done_at: null };
	return { items, befores, jobs: new Map([["safe", safe as unknown as Job]]), compartments: new Map() };
}

function ask(work: OpenWork, records: WorkRecords): number {
	let ready = 0;
	for (const key of records.items.keys()) if (work.waitsOf(`item/${key}`).length === 0) ready += 1;
	return ready;
}

/** Processor time of this thread; by the clock it would also measure who else uses the machine. */
function milliseconds(): number {
	const { user, system } = process.threadCpuUsage();
	return (user + system) / 1_000;
}

type Step = (records: WorkRecords, turn: number) => WorkRecords;

/** A table with one record changed, made as the app makes it (memory.ts). */
function withOne<R extends { key: string }>(was: ReadonlyMap<string, R>, record: R): Map<string, R> {
	const now = new Map(was).set(record.key, record);
	madeFrom(now, was, [record.key]);
	return now;
}

const CHANGES: Record<string, Step> = {
	"an item is taken out": (records, turn) => {
		const item = records.items.get(`${turn * 17}`) as Item;
		return { ...records, items: withOne(records.items, { ...item, whereabouts: "ashore" }) };
	},
	"it is put back": (records, turn) => {
		const item = records.items.get(`${turn * 17}`) as Item;
		return { ...records, items: withOne(records.items, { ...item, whereabouts: "aboard" }) };
	},
	"an order is written": (records, turn) => {
		const then = `item/${ITEMS - 1 - turn}`;
		const order = { key: `new ${turn}`, first: `item/${turn}`, then } as Before;
		return { ...records, befores: withOne(records.befores, order) };
	},
	"a make-safe job is ticked": (records, turn) => {
		const done_at = turn % 2 ? "2026-09-01" : null;
		const job = { ...(records.jobs.get("safe") as Job), done_at };
		return { ...records, jobs: new Map([["safe", job]]) };
	},
};

let records = yard();
let began = milliseconds();
let work = new OpenWork(records, rules);
ask(work, records);
console.log(`all of it from nothing: ${(milliseconds() - began).toFixed(0)} ms`);
for (const [name, change] of Object.entries(CHANGES)) {
	const took: number[] = [];
	for (let turn = 0; turn < RUNS; turn++) {
		began = milliseconds();
		records = change(records, turn);
		work = work.after(records, rules);
		ask(work, records);
		took.push(milliseconds() - began);
	}
	took.sort((a, b) => a - b);
	const median = took[RUNS >> 1] ?? 0;
	const worst = took.at(-1) ?? 0;
	const aim = name.startsWith("an item") || name.startsWith("it is") ? AIM_MS : OTHERS_MS;
	const verdict = median < aim ? "met" : "MISSED";
	console.log(
		`${name}: ${median.toFixed(1)} ms, worst ${worst.toFixed(1)} ms (aim: less than ${aim}, ${verdict})`,
	);
}
