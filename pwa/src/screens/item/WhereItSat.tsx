/** Where an item sat: in words, and marked on the boat. */
import type { Item } from "../../domain/contract.ts";
import { pathOf } from "../../domain/tree.ts";
import { boat } from "../../storage/boat.ts";
import { BoatDrawing } from "../../ui/BoatDrawing.tsx";
import { drawnPlaces, hullOf, placeOf } from "../common/drawn.ts";
import { NO_COMPARTMENT } from "../common/ItemTag.tsx";
import { PATHS } from "../paths.ts";
import { PinsPart } from "../pins/PinsPart.tsx";

export function WhereItSat({ item }: { item: Item }) {
	const compartments = boat.table("compartment").value;
	const path = pathOf(compartments, item.compartment);
	const words = path.length > 0 ? path.join(", ") : NO_COMPARTMENT;
	const hull = hullOf();
	const place = placeOf(item.compartment);
	return (
		<section class="part">
			<h2>Where it sat</h2>
			<p class="where-words">
				<span class={path.length > 0 ? "strong" : "pencil"}>{words}</span>
				{item.sat && <span class="row-under">{item.sat}</span>}
			</p>
			{hull && place ? (
				<BoatDrawing
					hull={hull}
					places={drawnPlaces()}
					marked={place}
					label={`The boat from above and from the side, ${words} marked: ${place.side}, ${place.level}, ${place.fromM} to ${place.toM} m aft of the stem`}
				/>
			) : (
				path.length > 0 && (
					<p class="part-note">
						Not on the drawing yet.{" "}
						<a href={hull ? PATHS.compartment(item.compartment ?? "") : PATHS.boat}>
							{hull ? "Say where this compartment lies" : "Give the boat's length and beam"}
						</a>
					</p>
				)
			)}
			<PinsPart item={item} />
		</section>
	);
}
