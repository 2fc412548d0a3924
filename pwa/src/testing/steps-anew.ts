/** What each open piece of work waits for, all of it worked out anew: what openWork.ts is held to.
 *
 * Written step by step like the server's work/steps.py, with nothing kept from one change to the next.
 */
import { itemName, systemOf } from "../domain/names.ts";
import { isToTakeOut } from "../domain/recount.ts";
import type { RulesForPhone } from "../domain/rules.ts";
import { jobName, systemsToMakeSafe, type WorkRecords } from "../domain/steps.ts";
import { pathOf } from "../domain/tree.ts";

interface Step {
	readonly name: string;
	/** Of items only. */
	readonly system: string | null;
	readonly compartment: string | null;
	readonly gate: boolean;
	readonly sparks: boolean;
}

type Order = readonly [first: string, then: string];
type Steps = Map<string, Step>;

/** Systems whose vapour a spark sets off. */
const EXPLOSIVE = ["fuel", "gas"];

/** What each open step waits for, in words, by its target; what is ready is not there. */
export function waitsAnew(
	records: WorkRecords,
	rules: RulesForPhone,
): ReadonlyMap<string, readonly string[]> {
	const steps = openSteps(records, rules);
	const safety = safetyOf(records.jobs);
	const missing = (system: string): string => missingStep(system, rules, steps);
	// One that is given twice is in the way twice and taken away twice; words are said once.
	const orders = [
		...written(records, steps),
		...makingSafe(records, rules, safety, steps, missing),
		...noSparks(safety, steps, missing),
	];
	return inWords(steps, withoutOpenGates(steps, orders));
}

function openSteps({ items, jobs }: WorkRecords, rules: RulesForPhone): Steps {
	const steps: Steps = new Map();
	for (const item of items.values())
		if (isToTakeOut(item))
			steps.set(`item/${item.key}`, {
				name: itemName(item, rules),
				system: systemOf(item, rules),
				compartment: item.compartment,
				gate: false,
				sparks: false,
			});
	for (const job of jobs.values())
		if (!job.done_at)
			steps.set(`job/${job.key}`, {
				name: jobName(job, rules),
				system: null,
				compartment: job.compartment,
				gate: false,
				sparks: job.sparks ?? rules.spark_tasks.includes(job.task ?? ""),
			});
	return steps;
}

/** Written orders by their keys. */
function inOrder(befores: WorkRecords["befores"]): readonly Order[] {
	return [...befores.values()]
		.sort((a, b) => (a.key < b.key ? -1 : 1))
		.flatMap(({ first, then }): Order[] =>
			first && then ? [[first.replace(/^compartment\//, "empty/"), then]] : [],
		);
}

/** The orders that people wrote or accepted, with gates for whole compartments. */
function written({ befores, compartments }: WorkRecords, steps: Steps): Order[] {
	const orders: Order[] = [];
	const gates = new Set<string>();
	for (const order of inOrder(befores)) {
		const [first, then] = order;
		if (first.startsWith("empty/")) gates.add(first);
		if (then.startsWith("compartment/")) gates.add(then);
		orders.push(order);
	}
	if (gates.size === 0) return orders;
	const working = [...steps];
	for (const gate of [...gates].sort()) steps.set(gate, gateStep(gate, compartments));
	for (const [target, step] of working)
		for (const key of around(compartments, step.compartment)) {
			if (gates.has(`compartment/${key}`)) orders.push([`compartment/${key}`, target]);
			if (gates.has(`empty/${key}`)) orders.push([target, `empty/${key}`]);
		}
	return orders;
}

function gateStep(gate: string, compartments: WorkRecords["compartments"]): Step {
	const [sort, key = ""] = gate.split("/");
	const name = pathOf(compartments, key).at(-1) ?? "a compartment that is not known here";
	const words = sort === "empty" ? `${name} is empty` : `Way into ${name}`;
	return { name: words, system: null, compartment: key, gate: true, sparks: false };
}

/** Take out the gates that nothing holds shut any more, and the orders from them. */
function withoutOpenGates(steps: Steps, all: readonly Order[]): readonly Order[] {
	let orders = all.filter(([first, then]) => steps.has(first) && steps.has(then));
	if (![...steps.values()].some(({ gate }) => gate)) return orders;
	for (;;) {
		const held = new Set(orders.map(([, then]) => then));
		const opened = [...steps].filter(([target, step]) => step.gate && !held.has(target));
		if (opened.length === 0) return orders;
		for (const [target] of opened) steps.delete(target);
		orders = orders.filter(([first]) => steps.has(first));
	}
}

interface Safety {
	readonly bySystem: ReadonlyMap<string, readonly string[]>;
	readonly byCompartment: ReadonlyMap<string, readonly string[]>;
	readonly everywhere: readonly string[];
	/** Systems that somebody wrote a make-safe job for, done or not. */
	readonly written: ReadonlySet<string>;
}

function safetyOf(jobs: WorkRecords["jobs"]): Safety {
	const bySystem = new Map<string, string[]>();
	const byCompartment = new Map<string, string[]>();
	const everywhere: string[] = [];
	const written = new Set<string>();
	for (const job of jobs.values()) {
		if (job.task !== "make safe") continue;
		if (job.system) written.add(job.system);
		if (job.done_at) continue;
		if (job.system) push(bySystem, job.system, `job/${job.key}`);
		else if (job.compartment) push(byCompartment, job.compartment, `job/${job.key}`);
		else everywhere.push(`job/${job.key}`);
	}
	return { bySystem, byCompartment, everywhere, written };
}

type Missing = (system: string) => string;

function makingSafe(
	{ items, compartments }: WorkRecords,
	rules: RulesForPhone,
	safety: Safety,
	steps: Steps,
	missing: Missing,
): Order[] {
	const strict = new Set(rules.systems.filter((row) => row.strict).map(({ id }) => id));
	const orders: Order[] = [];
	for (const item of items.values()) {
		const target = `item/${item.key}`;
		if (!steps.has(target)) continue;
		const needed = systemsToMakeSafe(item, rules);
		for (const system of [...needed].sort()) {
			for (const job of safety.bySystem.get(system) ?? []) orders.push([job, target]);
			if (!safety.written.has(system) && strict.has(system)) orders.push([missing(system), target]);
		}
		if (needed.size === 0) continue;
		for (const job of safety.everywhere) orders.push([job, target]);
		if (safety.byCompartment.size > 0)
			for (const key of around(compartments, item.compartment))
				for (const job of safety.byCompartment.get(key) ?? []) orders.push([job, target]);
	}
	return orders;
}

/** The step for a make-safe job that nobody has written down. */
function missingStep(system: string, rules: RulesForPhone, steps: Steps): string {
	const target = `safe/${system}`;
	const row = rules.systems.find(({ id }) => id === system);
	const name = `Make safe: ${row?.make_safe ?? system}`;
	if (!steps.has(target))
		steps.set(target, { name, system: null, compartment: null, gate: false, sparks: false });
	return target;
}

/** Fuel and gas are made safe before anything that makes sparks, whatever it belongs to. */
function noSparks(safety: Safety, steps: Steps, missing: Missing): Order[] {
	const sparks = [...steps].filter(([, step]) => step.sparks).map(([target]) => target);
	if (sparks.length === 0) return [];
	const aboard = new Set([...steps.values()].map(({ system }) => system));
	const orders: Order[] = [];
	for (const system of EXPLOSIVE) {
		const firsts = [...(safety.bySystem.get(system) ?? [])];
		if (!safety.written.has(system) && aboard.has(system)) firsts.push(missing(system));
		for (const first of firsts)
			for (const then of sparks) if (first !== then) orders.push([first, then]);
	}
	return orders;
}

function inWords(steps: Steps, orders: readonly Order[]): ReadonlyMap<string, readonly string[]> {
	const into = new Map<string, string[]>();
	for (const [first, then] of orders)
		if (then.startsWith("compartment/")) push(into, then, words(steps, first));
	const found = new Map<string, string[]>();
	for (const [first, then] of orders) {
		// What many wait for is put into words once.
		let texts = into.get(first);
		if (!texts) {
			texts = [words(steps, first)];
			into.set(first, texts);
		}
		for (const text of texts) push(found, then, text);
	}
	for (const ring of ringsOf(steps, orders)) {
		const names = [...ring, ring[0] as string].map((target) => steps.get(target)?.name);
		for (const target of ring)
			push(found, target, `Orders in a ring, mend one: ${names.join(" before ")}`);
	}
	for (const [target, texts] of found) if (texts.length > 1) found.set(target, [...new Set(texts)]);
	return found;
}

function words(steps: Steps, target: string): string {
	const step = steps.get(target);
	const name = step?.name ?? "";
	if (target.startsWith("item/")) return `Take out first: ${name}`;
	if (step?.gate) return target.startsWith("empty/") ? `Wait until ${name}` : name;
	return name.startsWith("Make safe: ") ? name : `Do first: ${name}`;
}

/** A shortest ring of each knot of orders, through its first step. */
function ringsOf(steps: Steps, orders: readonly Order[]): string[][] {
	const after = new Map<string, string[]>();
	const waiting = new Map<string, number>();
	for (const target of steps.keys()) waiting.set(target, 0);
	for (const [first, then] of orders) {
		push(after, first, then);
		waiting.set(then, (waiting.get(then) ?? 0) + 1);
	}
	const free = [...waiting].filter(([, count]) => count === 0).map(([target]) => target);
	for (const target of free)
		for (const then of after.get(target) ?? []) {
			const count = (waiting.get(then) ?? 0) - 1;
			waiting.set(then, count);
			if (count === 0) free.push(then);
		}
	if (free.length === steps.size) return [];
	const before = new Map<string, string[]>();
	for (const [first, then] of orders) push(before, then, first);
	const rings: string[][] = [];
	const settled = new Set(free);
	for (const target of steps.keys()) {
		if (settled.has(target)) continue;
		const ahead = reached(after, target);
		const behind = reached(before, target);
		if (!ahead.has(target)) continue;
		for (const other of ahead.keys()) if (behind.has(other)) settled.add(other);
		let at = ahead.get(target) as string;
		const ring = [at];
		while (at !== target) {
			at = ahead.get(at) as string;
			ring.unshift(at);
		}
		rings.push(ring);
	}
	return rings;
}

/** Everything that can be reached from a step, each with the step that it was reached from. */
function reached(links: ReadonlyMap<string, readonly string[]>, from: string): Map<string, string> {
	const came = new Map<string, string>();
	const queue = [from];
	for (const at of queue)
		for (const then of links.get(at) ?? []) {
			if (came.has(then)) continue;
			came.set(then, at);
			if (then !== from) queue.push(then);
		}
	return came;
}

/** The keys of a compartment and of those around it, inside first; a ring is walked once. */
function* around(compartments: WorkRecords["compartments"], key: string | null): Iterable<string> {
	const seen = new Set<string>();
	for (let at = key; at !== null && !seen.has(at); at = compartments.get(at)?.within ?? null) {
		seen.add(at);
		yield at;
	}
}

function push<K, V>(map: Map<K, V[]>, key: K, value: V): void {
	const row = map.get(key);
	if (row) row.push(value);
	else map.set(key, [value]);
}
