/** What open work is made of: its steps, their names, and what must be safe before them.
 *
 * Twin of the server's steps.py; what each step waits for is worked out in openWork.ts.
 */
import type { Before, Compartment, Item, Job } from "./contract.ts";
import { itemName, kindOf, systemOf } from "./names.ts";
import { isToTakeOut } from "./recount.ts";
import type { RulesForPhone } from "./rules.ts";

export interface WorkRecords {
	readonly items: ReadonlyMap<string, Item>;
	readonly jobs: ReadonlyMap<string, Job>;
	readonly befores: ReadonlyMap<string, Before>;
	readonly compartments: ReadonlyMap<string, Compartment>;
}

/** An item that is aboard, or a job that is not done. */
export interface Step {
	readonly name: string;
	readonly system: string | null;
	readonly compartment: string | null;
	readonly sparks: boolean;
	/** Systems that must be safe before it, in the order of their ids; of items only. */
	readonly needs: readonly string[];
}

/** Systems whose vapour a spark sets off. */
export const EXPLOSIVE: readonly string[] = ["fuel", "gas"];

const NOTHING: readonly string[] = [];

/** The step of an item; null once it is out. */
export function stepOfItem(item: Item | null, rules: RulesForPhone): Step | null {
	if (!item || !isToTakeOut(item)) return null;
	const needs = systemsToMakeSafe(item, rules);
	return {
		name: itemName(item, rules),
		system: systemOf(item, rules),
		compartment: item.compartment,
		sparks: false,
		needs: needs.size > 0 ? [...needs].sort() : NOTHING,
	};
}

/** The step of a job; null once it is done. */
export function stepOfJob(job: Job | null, rules: RulesForPhone): Step | null {
	if (!job || job.done_at) return null;
	return {
		name: jobName(job, rules),
		// A job is nothing that is aboard: what counts as fuel there is items only.
		system: null,
		compartment: job.compartment,
		sparks: job.sparks ?? rules.spark_tasks.includes(job.task ?? ""),
		needs: NOTHING,
	};
}

export function jobName(job: Job, rules: RulesForPhone | null): string {
	const system = rules?.systems.find(({ id }) => id === job.system);
	if (job.task === "make safe") {
		const usual = system ? system.make_safe || system.name : "a job without a name";
		return `Make safe: ${job.name ?? usual}`;
	}
	if (job.name) return job.name;
	const words = job.task ?? "a job without a name";
	return words.charAt(0).toUpperCase() + words.slice(1);
}

/** The systems that must be safe before an item may come out. */
export function systemsToMakeSafe(item: Item, rules: RulesForPhone): ReadonlySet<string> {
	const kind = kindOf(item, rules);
	const own = item.system ? [item.system] : [];
	if (!kind) return new Set(own);
	return new Set(kind.make_safe.length > 0 ? [...kind.make_safe, ...own] : []);
}

/** Open make-safe jobs by what they hold back. */
export interface Safety {
	readonly bySystem: ReadonlyMap<string, readonly string[]>;
	readonly byCompartment: ReadonlyMap<string, readonly string[]>;
	readonly everywhere: readonly string[];
	/** Systems that somebody wrote a make-safe job for, done or not. */
	readonly written: ReadonlySet<string>;
}

export function safetyOf(jobs: WorkRecords["jobs"]): Safety {
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

/** The keys of a compartment and of those around it, inside first; a ring is walked once. */
export function around(
	compartments: WorkRecords["compartments"],
	key: string | null,
): readonly string[] {
	const found: string[] = [];
	for (let at = key; at !== null && !found.includes(at); ) {
		found.push(at);
		at = compartments.get(at)?.within ?? null;
	}
	return found;
}

/**
 * The ring that `first` before `then` would close, from `first` round; empty if it closes none.
 *
 * A compartment stands for what is still to be done in it: a ring may go through its gates.
 */
export function ringThrough(records: WorkRecords, first: string, then: string): readonly string[] {
	const from = emptied(first);
	if (from === then) return [from];
	const after = afterWith(records, from, then);
	const came = new Map([[then, from]]);
	const queue = [then];
	for (const at of queue)
		for (const onward of after.get(at) ?? []) {
			if (onward === from) return walked(came, from, at);
			if (came.has(onward)) continue;
			came.set(onward, at);
			queue.push(onward);
		}
	return [];
}

/** What comes first of a whole compartment is that it is empty. */
export function emptied(first: string): string {
	return first.replace(/^compartment\//, "empty/");
}

/** What follows on what, as if the order were written already: orders, and the gates they need. */
function afterWith(
	{ befores, items, jobs, compartments }: WorkRecords,
	first: string,
	then: string,
): ReadonlyMap<string, readonly string[]> {
	const after = new Map<string, string[]>();
	const gates = new Set([first, then].filter(isGate));
	for (const order of befores.values()) {
		if (!order.first || !order.then) continue;
		const from = emptied(order.first);
		push(after, from, order.then);
		for (const target of [from, order.then]) if (isGate(target)) gates.add(target);
	}
	if (gates.size === 0) return after;
	const through = (target: string, compartment: string | null): void => {
		for (const key of around(compartments, compartment)) {
			if (gates.has(`compartment/${key}`)) push(after, `compartment/${key}`, target);
			if (gates.has(`empty/${key}`)) push(after, target, `empty/${key}`);
		}
	};
	for (const item of items.values())
		if (isToTakeOut(item)) through(`item/${item.key}`, item.compartment);
	for (const job of jobs.values()) if (!job.done_at) through(`job/${job.key}`, job.compartment);
	return after;
}

/** The key in a target like `item/key`. */
export function keyOf(target: string): string {
	return target.slice(target.indexOf("/") + 1);
}

/** The way into a compartment, or that it is empty: nobody's work, but work waits for it. */
export function isGate(target: string): boolean {
	return target.startsWith("compartment/") || target.startsWith("empty/");
}

function walked(came: ReadonlyMap<string, string>, first: string, last: string): string[] {
	const steps = [last];
	for (let at = last; at !== first; ) {
		at = came.get(at) ?? first;
		steps.push(at);
	}
	return steps.reverse();
}

function push<K, V>(map: Map<K, V[]>, key: K, value: V): void {
	const row = map.get(key);
	if (row) row.push(value);
	else map.set(key, [value]);
}
