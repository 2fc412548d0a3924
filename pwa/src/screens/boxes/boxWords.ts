/** Words and look-ups that the screens of containers share. */
import type { BoxView, Container, Item } from "../../domain/contract.ts";
import { groupedBy } from "../../domain/grouped.ts";
import { kindOf } from "../../domain/names.ts";
import { streamsToMix } from "../../domain/stream.ts";
import { boat } from "../../storage/boat.ts";
import { rules } from "../../storage/rules.ts";
import { lists } from "../../sync/lists.ts";
import { theBoat } from "../common/drawn.ts";

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

/** The streams that count when something is put beside an item: one where its answers agree. */
export function streamIds(item: Item): readonly string[] {
	const ruleSet = theBoat()?.rule_set ?? null;
	return streamsToMix(item, kindOf(item, rules.value), rules.value, ruleSet);
}

/** `Closed`, `Open`, `Handed over`. */
export function stateOf(box: Container): "gone" | "closed" | "open" {
	if (box.handover !== null) return "gone";
	return box.closed_at === null ? "open" : "closed";
}
