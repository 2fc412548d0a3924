/** What a compartment usually holds, and what is listed in it already. */
import type { Item } from "../../domain/contract.ts";
import { isToTakeOut } from "../../domain/recount.ts";
import { boat } from "../../storage/boat.ts";
import { rules } from "../../storage/rules.ts";
import { theBoat } from "../common/drawn.ts";
import { likelyIn } from "./template.ts";

const RECENT = 6;

/** By the survey that the walk-round began with; over all of them where none was chosen. */
export function likelyHere(name: string): readonly (readonly [kind: string, count: number])[] {
	return likelyIn(rules.value?.surveys ?? [], name, theBoat()?.survey ?? null);
}

export function kindName(id: string): string {
	return rules.value?.kinds.find((kind) => kind.id === id)?.name ?? id;
}

/** Newest first; keys begin with their time. */
export function aboardIn(compartment: string): Item[] {
	return [...boat.table("item").value.values()]
		.filter((item) => item.compartment === compartment && isToTakeOut(item))
		.sort((a, b) => (a.key < b.key ? 1 : -1));
}

/** Kinds of the items listed last. */
export function recentKinds(without: ReadonlySet<string>): string[] {
	const found = new Set<string>();
	const newest = [...boat.table("item").value.values()].sort((a, b) => (a.key < b.key ? 1 : -1));
	for (const { kind } of newest) {
		if (kind && !without.has(kind)) found.add(kind);
		if (found.size === RECENT) break;
	}
	return [...found];
}
