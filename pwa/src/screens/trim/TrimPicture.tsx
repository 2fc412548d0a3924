/** Profile with the old and the new waterline, and the section with the list. */
import type { BoatShape, Floats } from "../../domain/contract.ts";

const WIDE = 240;
const HIGH = 92;
const WATER = 58;

/** Drawn larger than it is, so that it can be seen: as on paper, 1, 2, 5 or 10 times. */
export function timesOf(state: Floats): number {
	const ends = [state.fore_cm, state.aft_cm].map((end) => Math.abs(end?.likely ?? 0));
	const largest = Math.max(0.1, ...ends);
	return [1, 2, 5].find((times) => largest * times >= 24) ?? 10;
}

export function TrimPicture({ shape, state }: { shape: BoatShape; state: Floats }) {
	const length = shape.length_m ?? 1;
	const scale = WIDE / length;
	const fore = (shape.overhang_m ?? 0) * scale;
	const aft = fore + (shape.waterline_m ?? length) * scale;
	const deep = Math.min(28, (shape.draught_m ?? 0.14 * length) * scale);
	const top = 0.11 * WIDE;
	const times = timesOf(state);
	const up = (cm: number | undefined): number => WATER - (((cm ?? 0) * times) / 100) * scale;
	const half = Math.min(32, ((shape.beam_m ?? 0.32 * length) / 2) * scale);
	const keel = fore + 0.75 * (aft - fore);
	const list = state.list_deg?.likely ?? 0;
	return (
		<figure class="trim-picture">
			<svg
				viewBox={`-4 0 ${WIDE + 84} ${HIGH}`}
				width="100%"
				role="img"
				aria-label={labelOf(state, times)}
				fill="none"
				stroke="currentColor"
			>
				<path
					d={`M0 ${WATER - 1.25 * top} L${fore} ${WATER} C${fore + 0.2 * (keel - fore)} ${WATER + deep} ${fore + 0.5 * (keel - fore)} ${WATER + deep} ${keel} ${WATER + deep} L${aft} ${WATER} L${WIDE} ${WATER - top} Q${WIDE / 2} ${WATER - 0.85 * top} 0 ${WATER - 1.25 * top}Z`}
				/>
				<path d={`M${fore - 4} ${WATER}H${aft + 4}`} stroke-width="0.6" stroke-dasharray="3 2" />
				<path
					d={`M${fore} ${up(state.fore_cm?.likely)}L${aft} ${up(state.aft_cm?.likely)}`}
					stroke="var(--slate)"
					stroke-width="2"
				/>
				<g transform={`translate(${WIDE + 44} ${WATER})`}>
					<path d={`M${-half - 4} 0H${half + 4}`} stroke-width="0.6" stroke-dasharray="3 2" />
					<g transform={`rotate(${list})`}>
						<path
							d={`M${-half} ${-top}C${-half} 0 ${-0.7 * half} ${0.5 * deep} 0 ${deep}C${0.7 * half} ${0.5 * deep} ${half} 0 ${half} ${-top}Z M0 ${deep}V${-1.6 * top}`}
						/>
					</g>
				</g>
			</svg>
			<figcaption class="small pencil">
				Stem left; section from aft. Dashed: the old water. Heavy: the new
				{times === 1 ? ", to scale." : `, ${times} times as large as it is.`}
			</figcaption>
		</figure>
	);
}

function labelOf(state: Floats, times: number): string {
	const way = (of: number, unit: string, up: string, down: string): string =>
		`${Math.abs(of).toFixed(1)}${unit} ${of < 0 ? down : up}`;
	const end = (of: { likely: number } | null): string =>
		way(of?.likely ?? 0, " cm", "more", "less");
	const list = state.list_deg
		? `, list ${way(state.list_deg.likely, "°", "to starboard", "to port")}`
		: "";
	return `${state.name}: draught at the bow ${end(state.fore_cm)}, at the stern ${end(state.aft_cm)}${list}; drawn ${times} times as large`;
}
