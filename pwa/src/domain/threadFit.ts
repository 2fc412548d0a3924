/**
 * Whether two threads that are joined go together.
 *
 * The same answers, to the letter, as `ThreadReader.mismatch` of the server's `domain/renewals/thread.py`;
 * both are held to the pairs of `fixtures/contract/threads.json`.
 */
import type { End, Item } from "./contract.ts";
import { parseSize } from "./measure.ts";
import type { RenewalRules } from "./renewalRules.ts";
import { parseThread, type Thread } from "./thread.ts";
import { Unreadable } from "./unreadable.ts";

/** Why two threads as written don't go together; empty if they do, or one can't be read. */
export function mismatch(one: string, other: string, rules: RenewalRules): string {
	const [first, second] = [read(one, rules), read(other, rules)];
	if (!first || !second || !rules.thread_fits) return "";
	const why = reason(first, second, rules);
	return why && `${first.shown} on ${second.shown}: ${why}.`;
}

/**
 * What doesn't fit where an end of an item is screwed to another: by the thread of that end, else
 * of the item, on both sides. `ends` are all ends of the boat.
 */
export function misfit(
	end: End,
	items: ReadonlyMap<string, Item>,
	ends: Iterable<End>,
	rules: RenewalRules,
): string {
	const one = items.get(end.item ?? "");
	const other = items.get(end.to_item ?? "");
	if (!one || !other) return "";
	const first = end.thread || threadText(one);
	if (!first) return "";
	let back = "";
	for (const row of ends)
		if (row.item === other.key && row.to_item === one.key && row.thread) back = back || row.thread;
	return mismatch(first, back || threadText(other), rules);
}

/** What was written of an item's thread: its own field, else its size where that names one. */
export function threadText({ thread, size }: Item): string {
	if (thread) return thread;
	try {
		return size && parseSize(size).thread ? size : "";
	} catch (error) {
		if (error instanceof Unreadable) return "";
		throw error;
	}
}

function read(text: string, rules: RenewalRules): Thread | null {
	if (text === "") return null;
	try {
		return parseThread(text, rules);
	} catch (error) {
		if (error instanceof Unreadable) return null;
		throw error;
	}
}

function reason(one: Thread, other: Thread, rules: RenewalRules): string {
	if (one.series !== other.series) {
		const pair = [one.series, other.series].sort().join();
		const never = rules.thread_series?.find(({ series }) => [...series].sort().join() === pair);
		return never?.say ?? "the two are of different standards";
	}
	if (one.size !== other.size) return "the sizes differ";
	if (one.sex && one.sex === other.sex)
		return `both are ${one.sex}; a piece between them is missing`;
	if (one.series === "metric" || !one.family || !other.family) return "";
	const found = ways(one, other).map(([outside, inside]) =>
		rules.thread_fits?.find(
			({ male, female }) => male === outside.family && female === inside.family,
		),
	);
	if (found.some((fit) => fit?.tight)) return "";
	return found.find(Boolean)?.say ?? "no standard joins the two";
}

/** The two as outside and inside thread, each way that can be. */
function ways(one: Thread, other: Thread): [Thread, Thread][] {
	const found: [Thread, Thread][] = [];
	if (one.sex !== "female" && other.sex !== "male") found.push([one, other]);
	if (other.sex !== "female" && one.sex !== "male") found.push([other, one]);
	return found;
}
