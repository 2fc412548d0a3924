/** What filling a can writes: an item that is out, of the liquid's kind, drawn from the tank. */
import type { Item } from "../../domain/contract.ts";
import type { LiquidForPhone } from "../../domain/rules.ts";
import type { Edit } from "../../storage/boat.ts";

export interface Can {
	readonly key: string;
	readonly name: string;
	readonly litres: number;
	readonly at: string;
}

/** The edit that makes the can; `tank` is the tank's item. */
export function canEdits(
	{ key, name, litres, at }: Can,
	tank: Item,
	liquid: LiquidForPhone | null,
): Edit[] {
	const kind = liquid?.kinds?.[0] ?? null;
	const set = {
		name,
		kind,
		compartment: tank.compartment,
		drawn_from: tank.key,
		volume_l: litres,
		whereabouts: "ashore",
		out_at: at,
		fate: kind ? "waste" : "undecided",
	} as const;
	return [{ table: "item", key, set }];
}
