/** Which items are runs of cable that feed something, and by what current. */
import type { Item } from "./contract.ts";
import { kindOf, systemOf } from "./names.ts";
import type { RulesForPhone } from "./rules.ts";
import { conductor } from "./wireSize.ts";

const CIRCUITS = ["dc", "ac"];

/** A cable of the DC or AC system, or a run with a load written. */
export function isCircuit(item: Item, rules: RulesForPhone | null): boolean {
	const kind = kindOf(item, rules);
	if (!kind?.is_run) return false;
	const fed = item.load_a !== null || item.load_w !== null;
	return kind.id.startsWith("cable-") && (CIRCUITS.includes(kind.system) || fed);
}

export function isAc(item: Item, rules: RulesForPhone | null): boolean {
	return systemOf(item, rules) === "ac";
}

/** The size to keep when a conductor is taken: with the cores of the old cable, `2 x 4 mm2`. */
export function takenSize(item: Item, name: string): string {
	const old = conductor(item.size ?? "");
	const cores = typeof old === "string" ? 1 : old.cores;
	const many = cores === 1 && item.sheathed ? 2 : cores;
	return many > 1 ? `${many} x ${name}` : name;
}
