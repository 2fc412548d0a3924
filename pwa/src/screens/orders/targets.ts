/** What an order names: an item, a job or a compartment, in words and with what holds of it. */
import type { Before, Item } from "../../domain/contract.ts";
import { itemName } from "../../domain/names.ts";
import { isToTakeOut } from "../../domain/recount.ts";
import { jobName, ringThrough, type WorkRecords } from "../../domain/steps.ts";
import { isUnder, pathOf } from "../../domain/tree.ts";
import { boat } from "../../storage/boat.ts";
import { rules } from "../../storage/rules.ts";
import { PATHS } from "../paths.ts";

export function targetName(target: string | null): string {
	const [table, key = ""] = (target ?? "").split("/");
	if (table === "item") {
		const item = boat.table("item").value.get(key);
		return item ? itemName(item, rules.value) : "An item that is not here";
	}
	if (table === "job") {
		const job = boat.table("job").value.get(key);
		return job ? jobName(job, rules.value) : "A job that is not here";
	}
	const place = pathOf(boat.table("compartment").value, key).at(-1);
	return place ?? "A compartment that is not here";
}

export function targetPath(target: string | null): string {
	const [table, key = ""] = (target ?? "").split("/");
	if (table === "item") return PATHS.item(key);
	return table === "job" ? PATHS.job(key) : PATHS.compartment(key);
}

/** Why an order holds nothing back, by either of its sides; null while it does. */
export function idleOf({ first, then }: Before): string | null {
	return idleWords(first) ?? idleWords(then);
}

function idleWords(target: string | null): string | null {
	const [table, key = ""] = (target ?? "").split("/");
	if (table === "item") {
		const item = boat.table("item").value.get(key);
		if (!item) return "It is in the bin or not on this phone: this order holds nothing back.";
		return isToTakeOut(item) ? null : "It came out already: this order holds nothing back.";
	}
	if (table === "job") {
		const job = boat.table("job").value.get(key);
		if (!job) return "It is in the bin or not on this phone: this order holds nothing back.";
		return job.done_at ? "It is done already: this order holds nothing back." : null;
	}
	return boat.table("compartment").value.has(key)
		? null
		: "It is in the bin or not on this phone: this order holds nothing back.";
}

/** The compartment that an item or a job lies in. */
export function compartmentOf(target: string): string | null {
	const [table, key = ""] = target.split("/");
	if (table === "compartment") return key;
	if (table === "item") return boat.table("item").value.get(key)?.compartment ?? null;
	return boat.table("job").value.get(key)?.compartment ?? null;
}

/** Why `first` can't be written before `then`, with the ring in names; null if it can. */
export function orderFault(records: WorkRecords, first: string, then: string): string | null {
	const befores = [...records.befores.values()];
	if (first === then) return `${targetName(first)} can't come before itself.`;
	if (befores.some((row) => row.first === first && row.then === then))
		return "This order is written down already.";
	const gone = [first, then].find(isGone);
	if (gone)
		return `${targetName(gone)} has gone, or is in the bin: an order on it would hold nothing back. Bring it back first, or choose what stands in its place.`;
	const inside = insideWords(first, then) ?? insideWords(then, first);
	if (inside) return inside;
	const ring = ringThrough(records, first, then);
	return ring.length === 0
		? null
		: `Not kept, for it would close a ring that nobody could begin: ${ringWords(ring)}. Take one of these orders back first.`;
}

/** Sold, thrown away or in the bin; what only lies ashore may still be ordered for putting back. */
function isGone(target: string): boolean {
	const [table, key = ""] = target.split("/");
	if (table === "item") {
		const item = boat.table("item").value.get(key);
		return item === undefined || item.whereabouts === "gone";
	}
	if (table === "job") return !boat.table("job").value.has(key);
	return !boat.table("compartment").value.has(key);
}

/** A compartment stands for what is in it, so nothing in it can come before or after it. */
function insideWords(inner: string, outer: string): string | null {
	const [table, key = ""] = outer.split("/");
	if (table !== "compartment") return null;
	if (!isUnder(boat.table("compartment").value, compartmentOf(inner), key)) return null;
	return `${targetName(inner)} lies in ${targetName(outer)}: it can come neither before nor after it. Choose the item or the job that stands in the way.`;
}

export function ringWords(ring: readonly string[]): string {
	return [...ring, ring[0] as string].map(gateName).join(" before ");
}

/** A whole compartment is a gate in a ring: it is empty, or it may be worked in. */
function gateName(target: string): string {
	if (target.startsWith("empty/")) return `${targetName(target)} empty`;
	return target.startsWith("compartment/") ? `way into ${targetName(target)}` : targetName(target);
}

export function itemsBeside(compartment: string | null): readonly Item[] {
	return [...boat.table("item").value.values()]
		.filter((item) => isToTakeOut(item))
		.sort((a, b) => rank(a) - rank(b) || nameOf(a).localeCompare(nameOf(b), "en-GB"));

	function rank(item: Item): number {
		return compartment !== null && item.compartment === compartment ? 0 : 1;
	}
}

function nameOf(item: Item): string {
	return itemName(item, rules.value);
}
