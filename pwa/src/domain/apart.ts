/** What must not share a container, as the server judges it, for a phone with no signal. */
import type { Item } from "./contract.ts";
import type { ApartForPhone, KindForPhone, PathForPhone, RulesForPhone } from "./rules.ts";
import { streamsOf } from "./waste.ts";

/** The ban on two streams in one container, the same in either order; null: they may share it. */
export function mayShare(
	rules: RulesForPhone,
	ruleSet: string | null,
	one: string,
	other: string,
): ApartForPhone | null {
	const same = mildOf(rules, one) === mildOf(rules, other);
	const local = rules.rule_sets.find(({ id }) => id === ruleSet)?.apart ?? [];
	const found = [...local, ...(rules.apart ?? [])].filter((row) =>
		bans(rules, row, one, other, same),
	);
	return found.find((row) => row.only_if === "") ?? found[0] ?? null;
}

function bans(
	rules: RulesForPhone,
	row: ApartForPhone,
	one: string,
	other: string,
	same: boolean,
): boolean {
	if (same) return row.first === row.second && row.first === one && one === other;
	return (
		(isMeant(rules, row.first, one) && isMeant(rules, row.second, other)) ||
		(isMeant(rules, row.first, other) && isMeant(rules, row.second, one))
	);
}

/** Whether a stream is meant by a selector: itself, a set, a class, a hazard or any. */
function isMeant(rules: RulesForPhone, selector: string, id: string): boolean {
	const known = rules.streams?.find((stream) => stream.id === id);
	if (selector === "any") return true;
	if (selector === "hazard") return known?.in_itself ?? true;
	if (selector.startsWith("class:")) return known?.classes?.includes(selector.slice(6)) ?? false;
	if (selector.startsWith("set:"))
		return rules.stream_sets?.[selector.slice(4)]?.includes(id) ?? false;
	return selector === id;
}

function mildOf(rules: RulesForPhone, id: string): string {
	return rules.streams?.find((stream) => stream.id === id)?.milder_of || id;
}

/** What a ban rests on under a rule set, or under that which a local one was made from. */
export function citedBy(
	rules: RulesForPhone,
	ruleSet: string | null,
	ban: ApartForPhone,
): readonly string[] {
	const law = rules.rule_sets.find(({ id }) => id === ruleSet)?.law ?? ruleSet ?? "";
	return ban.cited?.[law] ?? ban.sources;
}

/** What lifts a ban, and who says so; empty: nothing does. */
export function liftedIf(ban: {
	readonly only_if: string;
	readonly only_if_source?: string;
}): string {
	if (ban.only_if === "") return "";
	const by = ban.only_if_source ? ` (${ban.only_if_source})` : "";
	return `Allowed only if: ${ban.only_if}${by}.`;
}

/** A thing that may not go in, and what it may not lie beside. */
export interface Stopped {
	readonly ban: ApartForPhone;
	readonly beside: string;
}

/**
 * Why something of the streams `coming` may not join `inside` and the container's own stream. Where
 * answers are open a thing may be of several streams; the strictest counts.
 */
export function stoppedBy(
	rules: RulesForPhone,
	ruleSet: string | null,
	coming: readonly string[],
	own: string | null,
	inside: readonly string[],
): Stopped | null {
	const others = [...new Set([...(own ? [own] : []), ...inside])];
	let mild: Stopped | null = null;
	for (const stream of coming)
		for (const beside of others) {
			// The container's own stream is no second piece of it.
			if (stream === beside && !inside.includes(beside)) continue;
			const ban = mayShare(rules, ruleSet, stream, beside);
			if (ban && ban.only_if === "") return { ban, beside };
			if (ban) mild ??= { ban, beside };
		}
	return mild;
}

/** What must be done with an item whose streams or answers ask for a path of their own. */
export function pathsOf(
	item: Item,
	kind: KindForPhone | null,
	rules: RulesForPhone | null,
): readonly PathForPhone[] {
	const streams = new Set(streamsOf(item, kind, rules).map(({ id }) => id));
	const said = item as unknown as Readonly<Record<string, unknown>>;
	return (rules?.paths ?? []).filter(
		(path) =>
			path.streams.some((id) => streams.has(id)) && (path.when === "" || said[path.when] === true),
	);
}

/** The paths that hold for a whole stream, whatever the answers. */
export function pathsOfStream(
	stream: string | null,
	rules: RulesForPhone | null,
): readonly PathForPhone[] {
	if (!stream) return [];
	return (rules?.paths ?? []).filter(
		(path) => path.when === "" && path.streams.some((id) => id === stream),
	);
}
