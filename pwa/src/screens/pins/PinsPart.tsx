/** Where an item sat, on the photographs that it is pinned on. */
import type { Item, Photo } from "../../domain/contract.ts";
import { itemName } from "../../domain/names.ts";
import { pathOf } from "../../domain/tree.ts";
import { boat } from "../../storage/boat.ts";
import { rules } from "../../storage/rules.ts";
import { PATHS } from "../paths.ts";
import { PinnedPicture } from "./PinnedPicture.tsx";
import { pinnedPhotos, pinsOn, spotWords } from "./pins.ts";

export function PinsPart({ item }: { item: Item }) {
	const photos = pinnedPhotos(item.key);
	if (photos.length === 0) return null;
	return (
		<>
			{photos.map((photo) => (
				<Pinned key={photo.key} photo={photo} item={item} />
			))}
		</>
	);
}

function Pinned({ photo, item }: { photo: Photo; item: Item }) {
	const pins = pinsOn(photo.key).filter((pin) => pin.item === item.key);
	const [, of = ""] = (photo.of ?? "").split("/");
	const place = pathOf(boat.table("compartment").value, of).at(-1) ?? "the boat";
	const where = pins.map(spotWords).join("; ");
	return (
		<a class="pin-picture-link part-tight" href={PATHS.photo(photo.key)}>
			<PinnedPicture
				photo={photo}
				pins={pins}
				marked={pins[0]?.key ?? null}
				label={`Photograph of ${place}, ${itemName(item, rules.value)} pinned: ${where}`}
			/>
			<span class="row-under">Pinned on the photograph of {place}</span>
		</a>
	);
}
