/**
 * What is left to take out, counted on the phone from its own records. Counts are pieces; a new
 * part that was put in is nothing to take out, and what was put back has come out.
 */
import type { Item, Place } from "./contract.ts";
import { systemOf } from "./names.ts";
import type { RulesForPhone } from "./rules.ts";

export interface Tally {
	readonly total: number;
	readonly out: number;
	readonly left: number;
}

const NONE: Tally = { total: 0, out: 0, left: 0 };

/** Ashore, gone, or with nothing said but the moment it came out; anything else is aboard. */
export function isOut(item: Item): boolean {
	if (item.whereabouts === null) return item.out_at !== null;
	return item.whereabouts !== "aboard";
}

/** Aboard, and neither put there as a new part nor put back after it had come out. */
export function isToTakeOut(item: Item): boolean {
	return !isOut(item) && !item.never_aboard && !item.back_at;
}

export function tallyOf(items: Iterable<Item>): Tally {
	let tally = NONE;
	for (const item of items) tally = plus(tally, item);
	return tally;
}

/** One tally a compartment, by its key; items without a compartment under null. */
export function tallyByCompartment(items: Iterable<Item>): Map<string | null, Tally> {
	return tallyBy(items, (item) => item.compartment);
}

/** One tally a system, by its id; items without one under null. */
export function tallyBySystem(
	items: Iterable<Item>,
	rules: RulesForPhone | null,
): Map<string | null, Tally> {
	return tallyBy(items, (item) => systemOf(item, rules));
}

function tallyBy(
	items: Iterable<Item>,
	group: (item: Item) => string | null,
): Map<string | null, Tally> {
	const found = new Map<string | null, Tally>();
	for (const item of items) found.set(group(item), plus(found.get(group(item)) ?? NONE, item));
	return found;
}

function plus(tally: Tally, item: Item): Tally {
	if (item.never_aboard) return tally;
	const pieces = item.count ?? 1;
	const out = tally.out + (isToTakeOut(item) ? 0 : pieces);
	const total = tally.total + pieces;
	return { total, out, left: total - out };
}

/**
 * Items by the key of each place that they lie in, or that their crate or shelf stands in. Ones
 * that are gone count nowhere.
 */
export function heldByPlace(
	items: Iterable<Item>,
	places: ReadonlyMap<string, Place>,
): Map<string, number> {
	const held = new Map<string, number>();
	for (const { place, whereabouts } of items) {
		if (whereabouts === "gone") continue;
		// Two phones may each have put one place into the other.
		const seen = new Set<string>();
		for (let at = place; at !== null && !seen.has(at); at = places.get(at)?.within ?? null) {
			seen.add(at);
			held.set(at, (held.get(at) ?? 0) + 1);
		}
	}
	return held;
}
