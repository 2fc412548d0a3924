/** Words and look-ups that the screens of containers share. */
import type { BoxView, Container, Item } from "../../domain/contract.ts";
import { groupedBy } from "../../domain/grouped.ts";
import { kindOf } from "../../domain/names.ts";
import { streamsOf } from "../../domain/waste.ts";
import { boat } from "../../storage/boat.ts";
import { rules } from "../../storage/rules.ts";
import { lists } from "../../sync/lists.ts";

const inContainer = groupedBy((item: Item) => item.container);

export function itemsIn(box: string): readonly Item[] {
	return inContainer(boat.table("item").value, box);
}

/** What the server made of a container; missing until its list has come. */
export function viewOf(box: string): BoxView | undefined {
	return lists.value.boxes?.list.boxes.find(({ key }) => key === box);
}

export function streamName(id: string | null): string {
	if (!id) return "No stream yet";
	return rules.value?.streams?.find((stream) => stream.id === id)?.name ?? id;
}

/** The streams that an item may belong to, as far as this phone can tell. */
export function streamIds(item: Item): readonly string[] {
	return streamsOf(item, kindOf(item, rules.value), rules.value).map(({ id }) => id);
}

/** `Closed`, `Open`, `Handed over`. */
export function stateOf(box: Container): "gone" | "closed" | "open" {
	if (box.handover !== null) return "gone";
	return box.closed_at === null ? "open" : "closed";
}
