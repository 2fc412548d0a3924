/** What an item is called, and which of its fields say so. */
import type { Item, Tag } from "./contract.ts";
import { groupedBy } from "./grouped.ts";
import type { KindForPhone, RulesForPhone } from "./rules.ts";

/** An index of each version of the rules: lists ask for the kind of every item. */
const kindsById = new WeakMap<RulesForPhone, ReadonlyMap<string, KindForPhone>>();

export function kindOf(item: Item, rules: RulesForPhone | null): KindForPhone | null {
	if (rules === null || item.kind === null) return null;
	let kinds = kindsById.get(rules);
	if (!kinds) {
		kinds = new Map(rules.kinds.map((kind) => [kind.id, kind]));
		kindsById.set(rules, kinds);
	}
	return kinds.get(item.kind) ?? null;
}

/** Its own name, else its kind's, else that it has none yet. */
export function itemName(item: Item, rules: RulesForPhone | null): string {
	return item.name ?? kindOf(item, rules)?.name ?? "Not named yet";
}

/** Its own system, else its kind's; null when neither is known. */
export function systemOf(item: Item, rules: RulesForPhone | null): string | null {
	return item.system ?? kindOf(item, rules)?.system ?? null;
}

const tagsOn = groupedBy((tag: Tag) => tag.on);

/** The codes of the tags on a record, in code order. */
export function codesOn(tags: ReadonlyMap<string, Tag>, target: string): string[] {
	return tagsOn(tags, target)
		.map((tag) => tag.key)
		.sort();
}
