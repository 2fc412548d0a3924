/** The history of an item, its photographs, tags and joins as one. */
import type { Item } from "../../domain/contract.ts";
import { codesOn } from "../../domain/names.ts";
import { boat } from "../../storage/boat.ts";
import { History } from "../common/History.tsx";
import { photosOf } from "../common/photos.tsx";

export function ItemHistory({ item }: { item: Item }) {
	const target = `item/${item.key}`;
	const ends = [...boat.table("end").value.values()].filter((end) => end.item === item.key);
	return (
		<History
			of={[
				["item", item.key],
				...photosOf(target).map((photo) => ["photo", photo.key] as const),
				...codesOn(boat.table("tag").value, target).map((code) => ["tag", code] as const),
				...ends.map((end) => ["end", end.key] as const),
			]}
		/>
	);
}
