/** The boat, its compartments filled by what is out of them; a tap leads to the compartment. */
import { isOut, tallyByCompartment } from "../../domain/recount.ts";
import { boat } from "../../storage/boat.ts";
import { BoatDrawing, type CellState } from "../../ui/BoatDrawing.tsx";
import { drawnPlaces, hullOf } from "../common/drawn.ts";
import { PATHS } from "../paths.ts";
import type { Known } from "./Group.tsx";

interface Props {
	known: ReadonlyMap<string, Known>;
	onTap: (key: string) => void;
}

export function LeftDrawing({ known, onTap }: Props) {
	const hull = hullOf();
	const places = drawnPlaces();
	if (!hull || places.length === 0)
		return (
			<p class="part-note">
				No drawing yet.{" "}
				<a href={hull ? PATHS.compartments : PATHS.boat}>
					{hull ? "Say where the compartments lie" : "Give the boat's length and beam"}
				</a>
			</p>
		);
	return (
		<figure class="drawing-part">
			<BoatDrawing
				hull={hull}
				places={places}
				states={cellStates(known)}
				label="The boat from above and from the side. What is left in each compartment stands in the list below."
				onTap={onTap}
			/>
			<figcaption>
				<Keys />
			</figcaption>
		</figure>
	);
}

function Keys() {
	return (
		<ul class="keys">
			<li>
				<svg class="key-box" viewBox="0 0 16 16" aria-hidden="true">
					<rect class="boat-cell-out" y="6" width="16" height="10" />
					<rect class="boat-cell" x="0.5" y="0.5" width="15" height="15" />
				</svg>
				filled by what is out
			</li>
			<li>
				<svg class="key-box" viewBox="0 0 16 16" aria-hidden="true">
					<path class="boat-cell-waits" d="M0 6 6 0M0 12 12 0M2 16 16 2M8 16 16 8" />
					<rect class="boat-cell" x="0.5" y="0.5" width="15" height="15" />
				</svg>
				something waits
			</li>
			<li>number: still aboard</li>
		</ul>
	);
}

function cellStates(known: ReadonlyMap<string, Known>): Map<string, CellState> {
	const items = [...boat.table("item").value.values()];
	const waiting = new Set(
		items
			.filter((item) => !isOut(item) && known.get(item.key)?.ready === false)
			.map((item) => item.compartment),
	);
	const states = new Map<string, CellState>();
	for (const [key, tally] of tallyByCompartment(items)) {
		if (key === null) continue;
		const share = tally.out / tally.total;
		states.set(key, { share, left: tally.left, waits: waiting.has(key) });
	}
	return states;
}
