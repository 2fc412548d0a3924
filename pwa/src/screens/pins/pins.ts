/** Pins on photographs: which there are, where they sit, and what a tap beside one means. */
import type { Edit } from "../../domain/change.ts";
import type { Item, Photo, Pin } from "../../domain/contract.ts";
import { groupedBy } from "../../domain/grouped.ts";
import { boat } from "../../storage/boat.ts";

/** Shares of the picture's width from the left and of its height from the top. */
export interface Spot {
	readonly x: number;
	readonly y: number;
}

/** A pin that can be drawn, with the number that it has on its picture. */
export interface Pinned extends Spot {
	readonly key: string;
	readonly item: string;
	readonly number: number;
}

export const MIDDLE: Spot = { x: 0.5, y: 0.5 };

const byPhoto = groupedBy((pin: Pin) => pin.photo);
const byItem = groupedBy((pin: Pin) => pin.item);

/** The pins of a photograph, numbered in the order in which they were set. */
export function pinsOn(photo: string): Pinned[] {
	const items = boat.table("item").value;
	return [...byPhoto(boat.table("pin").value, photo)]
		.sort((a, b) => (a.key < b.key ? -1 : 1))
		.filter((pin) => pin.item !== null && items.has(pin.item))
		.map((pin, at) => ({
			key: pin.key,
			item: pin.item as string,
			number: at + 1,
			...within({ x: pin.x ?? MIDDLE.x, y: pin.y ?? MIDDLE.y }),
		}));
}

/** Photographs that an item is pinned on, newest first. */
export function pinnedPhotos(item: string): Photo[] {
	const photos = boat.table("photo").value;
	const keys = new Set(byItem(boat.table("pin").value, item).map((pin) => pin.photo ?? ""));
	return [...keys]
		.map((key) => photos.get(key))
		.filter((photo): photo is Photo => photo?.sha256 != null)
		.sort((a, b) => (b.taken_at ?? "").localeCompare(a.taken_at ?? ""));
}

/** A pin on an item; one that is listed by the tap comes with it. */
export function pinEdits(
	pin: string,
	photo: string,
	item: string,
	spot: Spot,
	listed: Partial<Omit<Item, "key">> | null,
): Edit[] {
	const edits: Edit[] = listed ? [{ table: "item", key: item, set: listed }] : [];
	edits.push({ table: "pin", key: pin, set: { photo, item, ...within(spot) } });
	return edits;
}

/** On the picture, to the tenth of a per cent: a finger is no finer. */
export function within({ x, y }: Spot): Spot {
	const share = (value: number): number =>
		Math.round(Math.min(1, Math.max(0, value)) * 1_000) / 1_000;
	return { x: share(x), y: share(y) };
}

/** The pin under a tap on a picture that is shown `wide` by `high` pixels; null if it is too far. */
export function pinAt(
	pins: readonly Pinned[],
	spot: Spot,
	wide: number,
	high: number,
	reach = 22,
): Pinned | null {
	let nearest: Pinned | null = null;
	let closest = reach;
	for (const pin of pins) {
		const away = Math.hypot((pin.x - spot.x) * wide, (pin.y - spot.y) * high);
		if (away <= closest) [nearest, closest] = [pin, away];
	}
	return nearest;
}

/** `left, low`: where a pin sits, for those who can't see the picture. */
export function spotWords({ x, y }: Spot): string {
	const third = (value: number): number => (value < 1 / 3 ? 0 : value > 2 / 3 ? 2 : 1);
	const across = ["left", "in the middle", "right"][third(x)];
	const down = ["high", "half way up", "low"][third(y)];
	return `${across}, ${down}`;
}
