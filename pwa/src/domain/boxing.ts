/** What putting into a container, closing it and handing over write; pure, for tests. */
import type { Edit } from "./change.ts";
import type { Container, Item } from "./contract.ts";

export const SORTS = ["drum", "can", "lidded bin", "tray", "bag", "pallet box"] as const;

/** The sort that the words of a stream's container ask for; null: none of ours. */
export function sortFrom(keepIn: string): string | null {
	const words = keepIn.toLowerCase();
	if (/\bdrum\b/.test(words)) return "drum";
	if (/\bcan\b/.test(words)) return "can";
	if (/\btray\b/.test(words)) return "tray";
	if (/\bbin\b/.test(words)) return "lidded bin";
	if (/\bbags?\b/.test(words)) return "bag";
	return null;
}

/** An item goes into a container: it is ashore where that stands, and waste unless decided. */
export function putIn(item: Item, box: Container, now: string): Edit[] {
	const undecided = item.fate === null || item.fate === "undecided";
	const edits: Edit[] = [
		{
			table: "item",
			key: item.key,
			set: {
				container: box.key,
				place: box.place,
				whereabouts: "ashore",
				out_at: item.out_at ?? now,
				boxed_at: now,
				...(undecided ? { fate: "waste" } : {}),
			},
		},
	];
	if (box.opened_at === null)
		edits.push({ table: "container", key: box.key, set: { opened_at: now } });
	return edits;
}

/** An item leaves a container again and stays where that stands. */
export function takeOutOf(item: Item): Edit[] {
	return [{ table: "item", key: item.key, set: { container: null, boxed_at: null } }];
}

/** Things without a tag, counted into a container. */
export function countIn(
	key: string,
	kind: string,
	count: number,
	box: Container,
	now: string,
): Edit[] {
	const set = {
		kind,
		count,
		fate: "waste" as const,
		whereabouts: "ashore" as const,
		container: box.key,
		place: box.place,
		out_at: now,
		boxed_at: now,
	};
	const edits: Edit[] = [{ table: "item", key, set }];
	if (box.opened_at === null)
		edits.push({ table: "container", key: box.key, set: { opened_at: now } });
	return edits;
}

/** What a person wrote about a handover. */
export interface Papers {
	readonly on: string;
	readonly to: string;
	readonly carrier: string;
	readonly document: string;
	readonly note: string;
}

/**
 * Containers and loose items leave. The handover itself comes last: with that change the server
 * freezes the list, so everything else must have arrived before it.
 */
export function handOver(
	key: string,
	papers: Papers,
	boxes: readonly Container[],
	inside: readonly Item[],
	loose: readonly Item[],
	now: string,
): Edit[] {
	const edits: Edit[] = [];
	for (const item of loose)
		edits.push({
			table: "item",
			key: item.key,
			set: { handover: key, whereabouts: "gone", out_at: item.out_at ?? papers.on },
		});
	for (const item of inside)
		edits.push({ table: "item", key: item.key, set: { whereabouts: "gone" } });
	for (const box of boxes)
		edits.push({
			table: "container",
			key: box.key,
			set: { handover: key, closed_at: box.closed_at ?? now },
		});
	edits.push({
		table: "handover",
		key,
		set: {
			on: papers.on,
			...(papers.to && { to: papers.to }),
			...(papers.carrier && { carrier: papers.carrier }),
			...(papers.document && { document: papers.document }),
			...(papers.note && { note: papers.note }),
			sealed_at: now,
		},
	});
	return edits;
}

/** What is odd about a handover before it is kept; it can be kept all the same. */
export function oddAbout(
	papers: Papers,
	boxes: readonly Container[],
	items: readonly Item[],
	today: string,
): string[] {
	const found: string[] = [];
	if (papers.to.trim() === "") found.push("It says no site: write who takes it.");
	if (papers.on > today) found.push("Its day is still to come: put the day right.");
	const early = (moment: string | null): boolean =>
		moment !== null && moment.slice(0, 10) > papers.on;
	for (const box of boxes)
		if (early(box.opened_at))
			found.push(
				`${box.name ?? "A container"} was opened after that day: put one of the days right.`,
			);
	const out = items.filter(({ out_at }) => early(out_at)).length;
	if (out > 0)
		found.push(
			`${out === 1 ? "One item" : `${out} items`} came out after that day: put the day right.`,
		);
	return found;
}
