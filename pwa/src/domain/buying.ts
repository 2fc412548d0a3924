/** How far the buying of a line has got, in step with its new parts. Pure: keys and times come in. */
import type { Edit } from "./change.ts";
import type { Item, Purchase } from "./contract.ts";
import { groupedBy } from "./grouped.ts";
import { isOut } from "./recount.ts";

export type Step = "to buy" | "bought" | "arrived" | "fitted";

/** What of a line its steps go by. */
export interface Bought {
	readonly id: string;
	readonly spec: string;
	readonly kind: string;
	readonly count: number;
	readonly items: readonly string[];
}

type Items = ReadonlyMap<string, Item>;

const LONGEST = 200;
const byOld = groupedBy((item: Item) => item.replaces);

/** The new part in the place of an old one: the newest, also where it was renewed twice. */
export function newPartOf(items: Items, old: string): Item | null {
	const seen = new Set([old]);
	let found: Item | null = null;
	for (let at = old; ; ) {
		const newer = byOld(items, at).reduce<Item | null>(later, null);
		if (!newer || seen.has(newer.key)) return found;
		seen.add(newer.key);
		found = newer;
		at = newer.key;
	}
}

function later(one: Item | null, other: Item): Item {
	return one && one.key > other.key ? one : other;
}

// Kinds whose lines may be counted from hoses and cables, which are then no items of the line.
const COUNTED = new Set(["hose-clamp", "cable-terminal", "fuse", "fuse-holder", "trunking"]);

/**
 * The old items that the line itself is bought for: not the hoses that its clamps are for, but those
 * of another kind that is bought as this one.
 */
export function ownItems(line: Pick<Bought, "items" | "kind">, items: Items): Item[] {
	return line.items
		.map((key) => items.get(key))
		.filter((item): item is Item => item !== undefined)
		.filter(({ kind }) => !COUNTED.has(line.kind) || (kind ?? "") === line.kind);
}

/** The new parts of a line that are there already. */
export function partsOf(line: Pick<Bought, "items" | "kind">, items: Items): Item[] {
	return ownItems(line, items)
		.map(({ key }) => newPartOf(items, key))
		.filter((part) => part !== null);
}

/** The furthest step that has a day. */
export function stateOf(purchase: Purchase | undefined): Step {
	if (purchase?.fitted_at) return "fitted";
	if (purchase?.arrived_at) return "arrived";
	return purchase?.bought_at ? "bought" : "to buy";
}

/** No less far than the new parts show once all of them are there. */
export function stateNow(line: Bought, purchase: Purchase | undefined, items: Items): Step {
	const state = stateOf(purchase);
	const parts = partsOf(line, items);
	const wanted = ownItems(line, items).length;
	if (wanted === 0 || parts.length < wanted) return state;
	if (parts.every((part) => !isOut(part))) return "fitted";
	return state === "to buy" || state === "bought" ? "arrived" : state;
}

export function after(state: Step): Step | null {
	if (state === "to buy") return "bought";
	if (state === "bought") return "arrived";
	return state === "arrived" ? "fitted" : null;
}

/** What is kept when a step is chosen: its day, and its new parts put in or laid ashore again. */
export function stepEdits(
	line: Bought,
	from: Step,
	to: Step,
	now: string,
	items: Items,
): readonly Edit[] {
	const parts = partsOf(line, items);
	const aboard = parts.filter((part) => !isOut(part));
	const moved =
		to === "fitted"
			? parts.filter(isOut).map((part) => placed(part, true, now))
			: from === "fitted"
				? aboard.map((part) => placed(part, false, now))
				: [];
	return [
		{ table: "purchase", key: line.id, set: { line: words(line), ...days(to, now, line.count) } },
		...moved,
	];
}

function days(to: Step, now: string, count: number): Partial<Omit<Purchase, "key">> {
	if (to === "to buy") return { bought_at: null, arrived_at: null, fitted_at: null };
	if (to === "bought") return { count, bought_at: now, arrived_at: null, fitted_at: null };
	if (to === "arrived") return { arrived_at: now, fitted_at: null };
	return { fitted_at: now };
}

function placed(part: Item, aboard: boolean, now: string): Edit {
	const set: Partial<Omit<Item, "key">> = aboard
		? { whereabouts: "aboard", back_at: now, place: null }
		: { whereabouts: "ashore", back_at: null };
	return { table: "item", key: part.key, set };
}

export interface NewPart {
	readonly key: string;
	readonly old: Item;
	readonly name: string;
	readonly code: string | null;
	readonly place: string | null;
	readonly now: string;
}

/** A new part with its tag; with the last one of its line the line has arrived. */
export function newPartEdits(
	part: NewPart,
	line: Bought | null,
	purchase: Purchase | undefined,
	items: Items,
): Edit[] {
	const { key, old, name, code, place, now } = part;
	const set: Partial<Omit<Item, "key">> = {
		name,
		kind: old.kind,
		system: old.system,
		compartment: old.compartment,
		count: old.count,
		size: old.new_size ?? old.size,
		never_aboard: true,
		replaces: old.key,
		whereabouts: "ashore",
		fate: "refit",
		place,
	};
	const edits: Edit[] = [{ table: "item", key, set }];
	if (code) edits.push({ table: "tag", key: code, set: { on: `item/${key}`, binned: null } });
	const complete =
		line !== null &&
		ownItems(line, items).every((one) => one.key === old.key || newPartOf(items, one.key));
	if (complete && !purchase?.arrived_at)
		edits.push({
			table: "purchase",
			key: line.id,
			set: { line: words(line), arrived_at: now, fitted_at: null },
		});
	return edits;
}

/** A new part ticked as in its place, or not after all; with the last one its line is fitted. */
export function tickEdits(
	part: Item,
	aboard: boolean,
	now: string,
	line: Bought | null,
	items: Items,
): Edit[] {
	const edits: Edit[] = [placed(part, aboard, now)];
	if (!line) return edits;
	const parts = partsOf(line, items);
	const whole = parts.length === ownItems(line, items).length;
	const others = parts.every((one) => one.key === part.key || !isOut(one));
	if (aboard && whole && others)
		edits.push({ table: "purchase", key: line.id, set: { line: words(line), fitted_at: now } });
	if (!aboard)
		edits.push({ table: "purchase", key: line.id, set: { line: words(line), fitted_at: null } });
	return edits;
}

function words({ spec }: Bought): string {
	return spec.slice(0, LONGEST);
}
