/** The names of things, as sentences about changes need them, from what this phone knows. */
import { itemName } from "../../domain/names.ts";
import { shown } from "../../domain/tag.ts";
import { pathOf } from "../../domain/tree.ts";
import { boat } from "../../storage/boat.ts";
import { rules } from "../../storage/rules.ts";
import { session } from "../../sync/session.ts";
import type { NamesOf } from "../item/history.ts";

export const NAMES: NamesOf = {
	compartment: (key) =>
		pathOf(boat.table("compartment").value, key).join(", ") || "a compartment that is not here",
	place: (key) => pathOf(boat.table("place").value, key).join(", ") || "a place that is not here",
	item: (key) => {
		const item = boat.table("item").value.get(key);
		return item ? itemName(item, rules.value) : "an item that is not here";
	},
	kind: (id) => nameFrom(rules.value?.kinds, id),
	system: (id) => nameFrom(rules.value?.systems, id),
	code: shown,
};

/** Whose phone it was: `this phone`, its name, or `another phone`. */
export function phoneName(device: string): string {
	if (device === session.value.device) return "this phone";
	return boat.table("device").value.get(device)?.name ?? "another phone";
}

function nameFrom(named: readonly { id: string; name: string }[] | undefined, id: string): string {
	return (named?.find((one) => one.id === id)?.name ?? id).toLowerCase();
}
