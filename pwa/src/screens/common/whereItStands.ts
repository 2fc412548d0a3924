/** Where an item is now, in words: the crate first, because that is what one looks for. */
import type { Item } from "../../domain/contract.ts";
import { pathOf } from "../../domain/tree.ts";
import { boat } from "../../storage/boat.ts";

/** `Crate 1, plumbing; Rack A, bottom shelf; Rack A`; empty while it is in no place. */
export function placeWords(place: string | null): string {
	return pathOf(boat.table("place").value, place).reverse().join("; ");
}

/** The container or crate that it lies in itself; empty where it lies in none. */
export function liesIn(item: Item): string {
	if (item.container) return boat.table("container").value.get(item.container)?.name ?? "";
	return pathOf(boat.table("place").value, item.place).at(-1) ?? "";
}
