/** How many items a shelf or crate holds, with all that stands in it. */
import type { Place } from "../../domain/contract.ts";
import { heldByPlace } from "../../domain/recount.ts";
import { boat } from "../../storage/boat.ts";

export function placesIn(key: string): Place[] {
	return [...boat.table("place").value.values()]
		.filter(({ within }) => within === key)
		.sort((a, b) => (a.name ?? "").localeCompare(b.name ?? "", "en-GB", { numeric: true }));
}

/** By the place's key. */
export function heldIn(): Map<string, number> {
	return heldByPlace(boat.table("item").value.values(), boat.table("place").value);
}
