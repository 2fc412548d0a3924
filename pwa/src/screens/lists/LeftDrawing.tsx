/** The boat, its compartments filled by what is out of them; a tap leads to the compartment. */

import { useState } from "preact/hooks";
import { isToTakeOut, tallyByCompartment } from "../../domain/recount.ts";
import { boat } from "../../storage/boat.ts";
import { BoatDrawing, type CellState } from "../../ui/BoatDrawing.tsx";
import { Choice } from "../../ui/Choice.tsx";
import type { CellPlace } from "../../ui/hull.ts";
import { drawnPlaces, hullOf } from "../common/drawn.ts";
import { PATHS } from "../paths.ts";
import type { Known } from "./Group.tsx";

interface Props {
	known: ReadonlyMap<string, Known>;
	onTap: (key: string) => void;
}

const LEVELS = [
	{ value: "all", label: "All" },
	{ value: "aloft", label: "Aloft" },
	{ value: "deck", label: "Deck" },
	{ value: "cabin", label: "Cabin" },
	{ value: "under sole", label: "Under" },
] as const;

type Shown = (typeof LEVELS)[number]["value"];

/** One level seen from above, or every compartment in the view that shows it best. */
function onLevel(places: readonly CellPlace[], level: Shown): readonly CellPlace[] {
	if (level === "all") return places;
	return places
		.filter((place) => place.level === level)
		.map((place) => ({ ...place, level: "cabin" }));
}

export function LeftDrawing({ known, onTap }: Props) {
	const [level, setLevel] = useState<Shown>("all");
	const hull = hullOf();
	const all = drawnPlaces();
	const places = onLevel(all, level);
	if (!hull || all.length === 0)
		return (
			<p class="part-note">
				No drawing yet.{" "}
				<a href={hull ? PATHS.compartments : PATHS.boat}>
					{hull ? "Say where the compartments lie" : "Give the boat's length and beam"}
				</a>
			</p>
		);
	const most = fullest(places);
	return (
		<figure class="drawing-part">
			{most.length > 0 && <p class="small">Most is left in {namesOf(most)}.</p>}
			<BoatDrawing
				hull={hull}
				places={places}
				states={cellStates(known, new Set(most.map(({ key }) => key)))}
				label={inWords(most, level)}
				onTap={onTap}
			/>
			<Choice
				name="drawn-level"
				legend="Level, seen from above"
				options={LEVELS.filter(
					({ value }) => value === "all" || all.some((place) => place.level === value),
				)}
				value={level}
				onChange={(next) => setLevel(next ?? "all")}
			/>
			<figcaption>
				<Keys />
			</figcaption>
		</figure>
	);
}

interface Full {
	readonly key: string;
	readonly name: string;
	readonly left: number;
}

/** Numbers that stand out; more of them and none would. */
const STAND_OUT = 3;

/** The compartments with most left, the fullest first. */
function fullest(places: readonly CellPlace[]): readonly Full[] {
	const tallies = tallyByCompartment(boat.table("item").value.values());
	const names = boat.table("compartment").value;
	return places
		.map(({ key }) => ({
			key,
			name: names.get(key)?.name ?? "unnamed",
			left: tallies.get(key)?.left ?? 0,
		}))
		.filter(({ left }) => left > 0)
		.sort((a, b) => b.left - a.left || (a.key < b.key ? -1 : 1))
		.slice(0, STAND_OUT);
}

/** The drawing in words: where most is left. */
function inWords(most: readonly Full[], level: Shown): string {
	const view = level === "all" ? "The boat from above and from the side." : "One level from above.";
	return most.length > 0 ? `${view} Most is left in ${namesOf(most)}.` : `${view} Nothing is left.`;
}

function namesOf(most: readonly Full[]): string {
	return most.map(({ name, left }) => `${name} ${left}`).join(", ");
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

function cellStates(
	known: ReadonlyMap<string, Known>,
	most: ReadonlySet<string>,
): Map<string, CellState> {
	const items = [...boat.table("item").value.values()];
	const waiting = new Set(
		items
			.filter((item) => isToTakeOut(item) && known.get(item.key)?.ready === false)
			.map((item) => item.compartment),
	);
	const states = new Map<string, CellState>();
	for (const [key, tally] of tallyByCompartment(items)) {
		if (key === null) continue;
		const share = tally.out / tally.total;
		states.set(key, { share, left: tally.left, waits: waiting.has(key), most: most.has(key) });
	}
	return states;
}
