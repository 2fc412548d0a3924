/** The lines of the order and of the renewals as this phone has them, and what it knows besides. */
import { newPartOf, ownItems, type Step, stateNow } from "../../domain/buying.ts";
import type {
	Item,
	Leftover,
	OrderLine,
	OrderList,
	Price,
	RenewalLine,
} from "../../domain/contract.ts";
import { groupedBy } from "../../domain/grouped.ts";
import { boat } from "../../storage/boat.ts";
import { rules } from "../../storage/rules.ts";
import { lists } from "../../sync/lists.ts";
import { amount } from "../../ui/words.ts";

const pricesOf = groupedBy((price: Price) => price.spec);
const leftoversOf = groupedBy((left: Leftover) => left.spec);

export function orderLine(id: string): OrderLine | null {
	return lists.value.order?.list.lines.find((line) => line.id === id) ?? null;
}

export function renewalLine(id: string): RenewalLine | null {
	return lists.value.renewals?.list.lines.find((line) => line.id === id) ?? null;
}

/** A run of cable with what was fixed for its line, where nothing is written on the run itself. */
export function asFixed(item: Item): Item {
	const line = lineOfItem(item);
	const spec = line ? boat.table("spec").value.get(line.id) : undefined;
	if (!spec) return item;
	return {
		...item,
		insulation_c: item.insulation_c ?? spec.insulation_c,
		sheathed: item.sheathed ?? spec.sheathed,
	};
}

const linesByItem = new WeakMap<OrderList, ReadonlyMap<string, readonly OrderLine[]>>();

/** The line that an item itself stands on; the clamps of a hose are another. */
export function lineOfItem(item: Item): OrderLine | null {
	const list = lists.value.order?.list;
	if (!list) return null;
	let found = linesByItem.get(list);
	if (!found) {
		found = byItem(list);
		linesByItem.set(list, found);
	}
	return found.get(item.key)?.find(({ kind }) => kind === (item.kind ?? "")) ?? null;
}

function byItem(list: OrderList): Map<string, OrderLine[]> {
	const made = new Map<string, OrderLine[]>();
	for (const line of list.lines)
		for (const key of line.items) made.set(key, [...(made.get(key) ?? []), line]);
	return made;
}

export function offersFor(id: string): readonly Price[] {
	return pricesOf(boat.table("price").value, id);
}

export function leftoversFor(id: string): readonly Leftover[] {
	return leftoversOf(boat.table("leftover").value, id);
}

/** How far a line is by what this phone knows, which may be more than its list says. */
export function stateOn(line: OrderLine): Step {
	return stateNow(line, boat.table("purchase").value.get(line.id), boat.table("item").value);
}

/** Old items of a line without a new part so far. */
export function withoutNewPart(line: OrderLine): Item[] {
	const items = boat.table("item").value;
	return ownItems(line, items).filter(({ key }) => !newPartOf(items, key));
}

/** What is to be asked before it is ordered; that it has no price yet is seen at the price. */
export function asksOf(line: OrderLine): readonly string[] {
	return line.asks.filter((ask) => !ask.startsWith("No price yet"));
}

/** What is bought by its length. */
export function isRun(line: OrderLine): boolean {
	return line.order_mm !== null || (renewalLine(line.id)?.runs.length ?? 0) > 0;
}

/** What to ask for, without the standard that stands under it. */
export function shortSpec({ spec, standard }: { spec: string; standard: string }): string {
	return standard && spec.endsWith(`, ${standard}`) ? spec.slice(0, -standard.length - 2) : spec;
}

export function systemName(id: string): string {
	return rules.value?.systems.find((system) => system.id === id)?.name ?? (id || "No system");
}

export function metres(mm: number): string {
	return `${(mm / 1000).toFixed(2)} m`;
}

/** What it costs by the list; a price written here since then is in the next one. */
export function costWords({ id, cost, currency, offers }: OrderLine): string {
	if (cost !== null) return `${amount(cost)} ${currency}`;
	const written = offersFor(id).filter((offer) => offer.amount !== null).length;
	if (written > offers.length) return "its price is in the next list";
	return offers.length === 0 ? "no price yet" : "no price that can be reckoned with";
}

export function piecesOf(line: OrderLine): string {
	if (line.order_mm !== null) return metres(line.order_mm);
	if (line.buy_as) return line.buy_as;
	return line.count === 1 ? "1 piece" : `${line.count} pieces`;
}
