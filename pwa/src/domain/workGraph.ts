/** The open work of a boat and what holds what up, kept so that both sides of a step are found. */
import type { RulesForPhone } from "./rules.ts";
import {
	around,
	EXPLOSIVE,
	keyOf,
	type Safety,
	type Step,
	safetyOf,
	stepOfItem,
	stepOfJob,
	type WorkRecords,
} from "./steps.ts";
import { WrittenOrders } from "./writtenOrders.ts";

const NOTHING: readonly string[] = [];

export class WorkGraph {
	readonly steps = new Map<string, Step>();
	readonly orders: WrittenOrders;
	readonly rules: RulesForPhone;
	records: WorkRecords;
	safety: Safety;
	/** Open steps in a compartment and below it, for those that something waits to be empty. */
	private readonly inside = new Map<string, number>();
	/** Items aboard of systems that a spark sets off. */
	private readonly aboard = new Map<string, number>();
	private readonly strict: ReadonlySet<string>;

	constructor(records: WorkRecords, rules: RulesForPhone) {
		this.records = records;
		this.rules = rules;
		this.strict = new Set(rules.systems.filter((row) => row.strict).map(({ id }) => id));
		this.orders = new WrittenOrders(records.befores);
		this.safety = safetyOf(records.jobs);
		for (const gate of this.orders.gates())
			if (gate.startsWith("empty/")) this.inside.set(keyOf(gate), 0);
		for (const item of records.items.values())
			this.put(`item/${item.key}`, null, stepOfItem(item, rules));
		for (const job of records.jobs.values())
			this.put(`job/${job.key}`, null, stepOfJob(job, rules));
	}

	put(target: string, old: Step | null, now: Step | null): void {
		if (old) this.count(old, -1);
		if (now) {
			this.steps.set(target, now);
			this.count(now, 1);
		} else this.steps.delete(target);
	}

	/** Count what lies in a compartment, if something waits for it to be empty. */
	recountInside(key: string): void {
		this.inside.delete(key);
		if (this.orders.from(`empty/${key}`).length > 0) this.inside.set(key, this.under(key).length);
	}

	/** Everything open in the order of work: items, jobs, and the gates that are shut. */
	targets(): string[] {
		return [...this.work(), ...this.orders.gates().filter((gate) => this.isOpen(gate))];
	}

	/** True while a target can hold something up. */
	isOpen(target: string): boolean {
		if (target.startsWith("empty/")) return (this.inside.get(keyOf(target)) ?? 0) > 0;
		if (target.startsWith("compartment/"))
			return this.orders.into(target).some(({ first }) => this.isOpen(first));
		return this.steps.has(target);
	}

	/** Everything open that a target waits for, one after the other as the server lists it. */
	readonly firsts = (target: string): readonly string[] => {
		if (target.startsWith("empty/")) return this.under(keyOf(target));
		const found: string[] = [];
		for (const { first } of this.orders.into(target)) if (this.isOpen(first)) found.push(first);
		const step = this.steps.get(target);
		if (!step) return found;
		if (this.orders.gateless) return this.withSafety(found, step, target);
		for (const key of this.around(step))
			if (this.isOpen(`compartment/${key}`)) found.push(`compartment/${key}`);
		return this.withSafety(found, step, target);
	};

	/** Everything open that waits for a target. */
	readonly thens = (target: string): readonly string[] => {
		if (target.startsWith("compartment/")) return this.under(keyOf(target));
		const found: string[] = [];
		for (const { then } of this.orders.from(target)) if (this.isOpen(then)) found.push(then);
		const step = this.steps.get(target);
		if (!step) return found;
		for (const key of this.waitedFor(step)) found.push(`empty/${key}`);
		if (target.startsWith("job/")) this.addMadeSafe(found, target);
		return found;
	};

	/** The compartments around a step that something waits to be empty. */
	waitedFor(step: Step | null): readonly string[] {
		if (this.inside.size === 0) return NOTHING;
		return this.around(step).filter((key) => this.inside.has(key));
	}

	/** The open steps in a compartment and below it. */
	under(key: string): readonly string[] {
		return this.work().filter((target) =>
			this.around(this.steps.get(target) ?? null).includes(key),
		);
	}

	private work(): string[] {
		const { items, jobs } = this.records;
		const found = [
			...[...items.keys()].map((key) => `item/${key}`),
			...[...jobs.keys()].map((key) => `job/${key}`),
		];
		return found.filter((target) => this.steps.has(target));
	}

	private count(step: Step, by: number): void {
		if (step.system !== null && EXPLOSIVE.includes(step.system))
			this.aboard.set(step.system, (this.aboard.get(step.system) ?? 0) + by);
		for (const key of this.waitedFor(step)) this.inside.set(key, (this.inside.get(key) ?? 0) + by);
	}

	private withSafety(found: string[], step: Step, target: string): string[] {
		if (step.needs.length > 0) this.addSafety(found, step);
		if (step.sparks) this.addNoSparks(found, target);
		return found;
	}

	private addSafety(found: string[], { needs, compartment }: Step): void {
		const { bySystem, byCompartment, everywhere, written } = this.safety;
		for (const system of needs) {
			found.push(...(bySystem.get(system) ?? NOTHING));
			if (!written.has(system) && this.strict.has(system)) found.push(`safe/${system}`);
		}
		found.push(...everywhere);
		if (byCompartment.size === 0) return;
		for (const key of around(this.records.compartments, compartment))
			found.push(...(byCompartment.get(key) ?? NOTHING));
	}

	/** Fuel and gas are made safe before anything that makes sparks, whatever it belongs to. */
	private addNoSparks(found: string[], target: string): void {
		const { bySystem, written } = this.safety;
		for (const system of EXPLOSIVE) {
			for (const job of bySystem.get(system) ?? NOTHING) if (job !== target) found.push(job);
			if (!written.has(system) && (this.aboard.get(system) ?? 0) > 0) found.push(`safe/${system}`);
		}
	}

	private addMadeSafe(found: string[], target: string): void {
		if (this.records.jobs.get(keyOf(target))?.task !== "make safe") return;
		for (const then of this.work()) {
			const step = this.steps.get(then);
			if (step && this.withSafety([], step, then).includes(target)) found.push(then);
		}
	}

	private around(step: Step | null): readonly string[] {
		if (step?.compartment == null) return NOTHING;
		return around(this.records.compartments, step.compartment);
	}
}
