/** What an item is called, and which of its fields say so. */
import type { Item, Tag } from "./contract.ts";
import type { KindForPhone, RulesForPhone } from "./rules.ts";

export function kindOf(item: Item, rules: RulesForPhone | null): KindForPhone | null {
	return rules?.kinds.find((kind) => kind.id === item.kind) ?? null;
}

/** Its own name, else its kind's, else that it has none yet. */
export function itemName(item: Item, rules: RulesForPhone | null): string {
	return item.name ?? kindOf(item, rules)?.name ?? "Not named yet";
}

/** Its own system, else its kind's; null when neither is known. */
export function systemOf(item: Item, rules: RulesForPhone | null): string | null {
	return item.system ?? kindOf(item, rules)?.system ?? null;
}

/** The codes of the tags on a record, in code order. */
export function codesOn(tags: ReadonlyMap<string, Tag>, target: string): string[] {
	return [...tags.values()]
		.filter((tag) => tag.on === target)
		.map((tag) => tag.key)
		.sort();
}
