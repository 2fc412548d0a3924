/** What each open piece of work waits for, worked out on the phone as the server does (steps.py).
 *
 * `fixtures/contract/steps.json` holds the two together, words included. A boat may have tens of
 * thousands of items: what a step waits for is put into words when asked for and then kept, and a
 * change takes away only what it can have altered. `testing/steps-anew.ts` is what it is held to.
 */
import type { Item, Job } from "./contract.ts";
import { type Difference, differences } from "./differences.ts";
import { liesInRing, type Rings, ringsAmong } from "./rings.ts";
import type { RulesForPhone } from "./rules.ts";
import {
	EXPLOSIVE,
	keyOf,
	type Step,
	safetyOf,
	stepOfItem,
	stepOfJob,
	type WorkRecords,
} from "./steps.ts";
import { nameOf, putInWords } from "./waitWords.ts";
import { WorkGraph } from "./workGraph.ts";
import type { WrittenOrder } from "./writtenOrders.ts";

/** With more changes at once than this, all is worked out anew: that is quicker. */
const MANY = 300;

export class OpenWork {
	private readonly graph: WorkGraph;
	private readonly words = new Map<string, readonly string[]>();
	private found: Rings;

	constructor(records: WorkRecords, rules: RulesForPhone) {
		this.graph = new WorkGraph(records, rules);
		this.found = this.rings();
	}

	/** What a target waits for, in words; empty if it is ready, or no open work. */
	waitsOf(target: string): readonly string[] {
		let texts = this.words.get(target);
		if (!texts) {
			texts = putInWords(this.graph, target, this.found.rings);
			this.words.set(target, texts);
		}
		return texts;
	}

	/** Everything that waits, the ways into compartments too. */
	waiting(): ReadonlyMap<string, readonly string[]> {
		const found = this.graph.targets().map((target) => [target, this.waitsOf(target)] as const);
		return new Map(found.filter(([, texts]) => texts.length > 0));
	}

	/** The rings of orders in names, a shortest one of each knot. */
	ringNames(): readonly (readonly string[])[] {
		return this.found.rings.map((ring) => ring.map((target) => nameOf(this.graph, target)));
	}

	/** The same after a change of the records; the one before it must not be used any more. */
	after(now: WorkRecords, rules: RulesForPhone): OpenWork {
		const { records: was, safety, orders } = this.graph;
		const byPlace = safety.byCompartment.size > 0 || !orders.gateless;
		if (rules !== this.graph.rules || (byPlace && was.compartments !== now.compartments))
			return new OpenWork(now, rules);
		const items = differences(was.items, now.items);
		const jobs = differences(was.jobs, now.jobs);
		const written = differences(was.befores, now.befores);
		if (items.length + jobs.length + written.length > MANY) return new OpenWork(now, rules);
		this.graph.records = now;
		const touched = new Set<string>();
		for (const item of items) touched.add(this.changeItem(item, rules));
		for (const job of jobs) touched.add(this.changeJob(job, rules));
		if (jobs.some(isMakingSafe)) this.secure(jobs.filter(isMakingSafe));
		for (const target of this.reorder(orders.update(written))) touched.add(target);
		this.mendRings(touched);
		return this;
	}

	private changeItem({ key, was, now }: Difference<Item>, rules: RulesForPhone): string {
		const target = `item/${key}`;
		this.change(target, stepOfItem(was, rules), stepOfItem(now, rules));
		return target;
	}

	private changeJob({ key, was, now }: Difference<Job>, rules: RulesForPhone): string {
		const target = `job/${key}`;
		this.change(target, stepOfJob(was, rules), stepOfJob(now, rules));
		return target;
	}

	private change(target: string, old: Step | null, now: Step | null): void {
		const places = [...this.graph.waitedFor(old), ...this.graph.waitedFor(now)];
		this.graph.put(target, old, now);
		this.forget(target);
		this.forgetAfter(target);
		for (const key of places) {
			this.forget(`empty/${key}`);
			this.forgetAfter(`empty/${key}`);
		}
		const systems = [old?.system ?? "", now?.system ?? ""];
		if (systems.some((system) => EXPLOSIVE.includes(system)))
			this.forgetSteps(({ sparks }) => sparks);
	}

	/** What make-safe jobs hold back, before their change or after it, is judged anew. */
	private secure(jobs: readonly Difference<Job>[]): void {
		this.graph.safety = safetyOf(this.graph.records.jobs);
		const systems = new Set(
			jobs.flatMap(({ was, now }) => [was, now]).map((job) => job?.system ?? ""),
		);
		this.forgetSteps(
			({ needs, sparks }) =>
				sparks || needs.some((system) => systems.has("") || systems.has(system)),
		);
	}

	/** Forget what orders that came or went can alter. Returns: the targets they are between. */
	private reorder(orders: readonly WrittenOrder[]): Set<string> {
		const touched = new Set<string>();
		for (const { first, then } of orders) {
			if (first.startsWith("empty/")) this.graph.recountInside(keyOf(first));
			for (const target of [first, then]) {
				touched.add(target);
				this.forget(target);
				this.forgetAfter(target);
			}
		}
		return touched;
	}

	private forget(target: string): void {
		this.words.delete(target);
		if (target.startsWith("compartment/"))
			for (const inside of this.graph.under(keyOf(target))) this.words.delete(inside);
	}

	private forgetAfter(target: string): void {
		for (const { then } of this.graph.orders.from(target)) this.forget(then);
	}

	private forgetSteps(altered: (step: Step) => boolean): void {
		for (const [target, step] of this.graph.steps) if (altered(step)) this.words.delete(target);
	}

	/** A ring is opened or closed by a change of something that lies in one, before it or after. */
	private mendRings(touched: ReadonlySet<string>): void {
		const { firsts, thens } = this.graph;
		const inRing = (target: string): boolean =>
			this.found.knotted.has(target) ||
			(this.graph.isOpen(target) && liesInRing(target, firsts, thens));
		if (![...touched].some(inRing)) return;
		for (const target of this.found.knotted) this.words.delete(target);
		this.found = this.rings();
		for (const target of this.found.knotted) this.words.delete(target);
	}

	private rings(): Rings {
		return ringsAmong(this.graph.targets(), this.graph.firsts, this.graph.thens);
	}
}

function isMakingSafe({ was, now }: Difference<Job>): boolean {
	return was?.task === "make safe" || now?.task === "make safe";
}
