/** The names of things, as sentences about changes need them, from what this phone knows. */
import { itemName } from "../../domain/names.ts";
import { shown } from "../../domain/tag.ts";
import { pathOf } from "../../domain/tree.ts";
import { boat } from "../../storage/boat.ts";
import { rules } from "../../storage/rules.ts";
import { phoneNames } from "../../sync/devices.ts";
import { session } from "../../sync/session.ts";
import type { NamesOf } from "./fieldWords.ts";

export const NAMES: NamesOf = {
	record: recordName,
	kind: (id) => nameFrom(rules.value?.kinds, id),
	system: (id) => nameFrom(rules.value?.systems, id),
	ruleSet: (id) => rules.value?.rule_sets.find((one) => one.id === id)?.name ?? id,
	stream: (id) => nameFrom(rules.value?.streams, id),
	material: (id) => nameFrom(rules.value?.materials, id),
	code: shown,
};

/** Whose phone it was: `this phone`, its name, or `another phone`. */
export function phoneName(device: string): string {
	if (device === session.value.device) return "this phone";
	return (
		phoneNames.value.get(device) ?? boat.table("device").value.get(device)?.name ?? "another phone"
	);
}

function recordName(table: string, key: string): string {
	if (table === "compartment" || table === "place")
		return pathOf(boat.table(table).value, key).join(", ") || `a ${table} that is not here`;
	if (table === "item") {
		const item = boat.table("item").value.get(key);
		return item ? itemName(item, rules.value) : "an item that is not here";
	}
	if (table === "container" || table === "job" || table === "boat") {
		const record = boat.table(table).value.get(key);
		return record ? (record.name ?? `an unnamed ${table}`) : `a ${table} that is not here`;
	}
	if (table === "handover") return boat.table(table).value.get(key)?.to ?? "a handover";
	return `a ${table}`;
}

function nameFrom(named: readonly { id: string; name: string }[] | undefined, id: string): string {
	return (named?.find((one) => one.id === id)?.name ?? id).toLowerCase();
}
