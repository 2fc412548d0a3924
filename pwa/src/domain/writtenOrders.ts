/** The orders that people wrote, found from either side; in the order of their keys, as the server reads them. */
import type { Before } from "./contract.ts";
import type { Difference } from "./differences.ts";
import { emptied } from "./steps.ts";

export interface WrittenOrder {
	readonly key: string;
	/** A compartment comes first when it is empty: `empty/key` stands for that. */
	readonly first: string;
	readonly then: string;
}

type Side = Map<string, WrittenOrder[]>;

const NONE: readonly WrittenOrder[] = [];

export class WrittenOrders {
	private readonly byThen: Side = new Map();
	private readonly byFirst: Side = new Map();
	private readonly shut = new Set<string>();

	constructor(befores: ReadonlyMap<string, Before>) {
		const keys = [...befores.keys()].sort();
		for (const key of keys) this.add(read(befores.get(key) ?? null));
	}

	/** Orders with this target behind them. */
	into(then: string): readonly WrittenOrder[] {
		return this.byThen.get(then) ?? NONE;
	}

	/** Orders with this target, or `empty/key`, before them. */
	from(first: string): readonly WrittenOrder[] {
		return this.byFirst.get(first) ?? NONE;
	}

	/** What stands for a whole compartment: the way into it, and that it is empty. */
	gates(): string[] {
		return [...this.shut].sort();
	}

	/** True where no order names a compartment. */
	get gateless(): boolean {
		return this.shut.size === 0;
	}

	/** Take in what changed. Returns: the orders that went, and those that came. */
	update(changed: readonly Difference<Before>[]): WrittenOrder[] {
		const found: WrittenOrder[] = [];
		for (const { was, now } of changed) {
			const [old, order] = [read(was), read(now)];
			if (old && order && old.first === order.first && old.then === order.then) continue;
			this.takeAway(old);
			this.add(order);
			found.push(...[old, order].filter((one) => one !== null));
		}
		return found;
	}

	private add(order: WrittenOrder | null): void {
		if (!order) return;
		insert(this.byThen, order.then, order);
		insert(this.byFirst, order.first, order);
		if (order.first.startsWith("empty/")) this.shut.add(order.first);
		if (order.then.startsWith("compartment/")) this.shut.add(order.then);
	}

	private takeAway(order: WrittenOrder | null): void {
		if (!order) return;
		if (remove(this.byThen, order.then, order)) this.shut.delete(order.then);
		if (remove(this.byFirst, order.first, order)) this.shut.delete(order.first);
	}
}

function read(before: Before | null): WrittenOrder | null {
	if (!before?.first || !before.then) return null;
	return { key: before.key, first: emptied(before.first), then: before.then };
}

function insert(side: Side, of: string, order: WrittenOrder): void {
	const rows = side.get(of);
	if (!rows) side.set(of, [order]);
	else if ((rows.at(-1)?.key ?? "") < order.key) rows.push(order);
	else
		rows.splice(
			rows.findIndex(({ key }) => key > order.key),
			0,
			order,
		);
}

/** Returns: true if no order is left on this side of the target. */
function remove(side: Side, of: string, order: WrittenOrder): boolean {
	const rest = (side.get(of) ?? []).filter(({ key }) => key !== order.key);
	if (rest.length === 0) return side.delete(of);
	side.set(of, rest);
	return false;
}
