/** What keeping a weighing writes: the reading, what was on the scale with it, the container's. */
import type { Item } from "../../domain/contract.ts";
import { boat, type Edit, newKey } from "../../storage/boat.ts";
import { unreadNote } from "../common/figure.ts";
import type { Subject } from "./subject.ts";

/** A field of the scale as typed: kilograms, or why it can't be read. */
export interface Figure {
	readonly kg: number | null;
	readonly why: string | null;
	readonly text: string;
}

export interface Typed {
	readonly gross: Figure;
	readonly tare: Figure;
	readonly division: number | null;
}

/**
 * Edits for one weighing. Keeping it again under the same key puts it right: rows of items that
 * are no longer ticked go to the bin.
 */
export function editsOf(
	{ table, key }: Subject,
	weighing: string,
	{ gross, tare, division }: Typed,
	ticked: readonly Item[],
	inside: readonly Item[],
): Edit[] {
	const target = `${table}/${key}`;
	const set = {
		of: target,
		on: new Date().toISOString(),
		gross_kg: gross.kg,
		tare_kg: tare.kg,
		division_kg: division,
		note: unreadNote([gross, tare]),
	};
	const edits: Edit[] = [{ table: "weighing", key: weighing, set }];
	const rows = rowsOf(weighing);
	for (const item of inside) {
		const known = rows.get(item.key);
		if (ticked.includes(item)) {
			if (!known)
				edits.push({ table: "weighed", key: newKey(), set: { weighing, item: item.key } });
		} else if (known) edits.push({ table: "weighed", key: known, set: { binned: true } });
	}
	if (table === "container" && gross.kg !== null)
		edits.push({ table, key, set: { gross_kg: gross.kg, ...emptyMass(tare) } });
	return edits;
}

/** A field left empty or unreadable says nothing of the container: its own empty mass stays. */
function emptyMass(tare: Figure): { tare_kg?: number } {
	return tare.kg === null ? {} : { tare_kg: tare.kg };
}

function rowsOf(weighing: string): ReadonlyMap<string, string> {
	const rows = [...boat.table("weighed").value.values()];
	return new Map(
		rows.filter((row) => row.weighing === weighing).map((row) => [row.item ?? "", row.key]),
	);
}
