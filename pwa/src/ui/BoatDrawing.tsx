/** The boat drawn: outlines in one stroke, cells filled from below by the share that is out. */
import { useId } from "preact/hooks";
import { type Cell, type CellPlace, drawHull, drawPlace, type HullMeasures } from "./hull.ts";

export interface CellState {
	/** 0 nothing out, 1 everything. */
	readonly share: number;
	/** What is left; stands in the cell. */
	readonly left: number;
	/** Something here can't come out yet: hatched. */
	readonly waits: boolean;
	/** Among the fullest: its number stands out. */
	readonly most: boolean;
}

interface Props {
	hull: HullMeasures;
	places: readonly CellPlace[];
	/** The drawing in words, for a person who can't see it. */
	label: string;
	states?: ReadonlyMap<string, CellState>;
	marked?: CellPlace | null;
	onTap?: (key: string) => void;
}

export function BoatDrawing({ hull, places, label, states, marked, onTap }: Props) {
	const id = useId();
	const drawing = drawHull(hull, places);
	const here = marked ? drawPlace(hull, marked) : [];
	const rank = ({ key }: Cell): number => (states?.get(key)?.most ? 1 : 0);
	const tap = (event: MouseEvent & { currentTarget: SVGSVGElement }): void => {
		const box = event.currentTarget.getBoundingClientRect();
		const scale = drawing.width / box.width;
		const key = nearest(
			drawing.cells,
			(event.clientX - box.left) * scale,
			(event.clientY - box.top) * scale,
		);
		if (key) onTap?.(key);
	};
	return (
		<svg
			class="boat-drawing"
			viewBox={`0 0 ${drawing.width} ${drawing.height}`}
			role="img"
			aria-label={label}
			data-taps={onTap ? "yes" : "no"}
			{...(onTap ? { onClick: tap } : {})}
		>
			<Hatch id={`${id}-hatch`} />
			<text class="boat-word" x="0" y={drawing.starboardY}>
				starboard
			</text>
			<text class="boat-word" x="0" y={drawing.portY}>
				port
			</text>
			{drawing.cells.map((cell) => (
				<CellShape key={cell.key} id={id} cell={cell} state={states?.get(cell.key)} />
			))}
			{[...drawing.cells]
				.sort((a, b) => rank(a) - rank(b))
				.map((cell) => (
					<CellNumber key={cell.key} cell={cell} state={states?.get(cell.key)} />
				))}
			<line
				class="boat-water"
				x1="0"
				x2={drawing.width}
				y1={drawing.waterline}
				y2={drawing.waterline}
			/>
			<path class="boat-outline" d={drawing.plan} />
			<path class="boat-outline" d={drawing.profile} />
			{here.map((cell) => (
				<path key={cell.key} class="boat-cell-mark" d={cell.path} />
			))}
		</svg>
	);
}

function CellShape(props: { id: string; cell: Cell; state: CellState | undefined }) {
	const { id, cell, state } = props;
	const clip = `${id}-${cell.key}`;
	const top = cell.y + cell.height * (1 - (state?.share ?? 0));
	return (
		<g>
			<path class="boat-cell-ground" d={cell.path} />
			{state && (
				<>
					<clipPath id={clip}>
						<path d={cell.path} />
					</clipPath>
					<rect
						class="boat-cell-out"
						x={cell.x}
						y={top}
						width={cell.width}
						height={cell.y + cell.height - top}
						clip-path={`url(#${clip})`}
					/>
					{state.waits && <path d={cell.path} fill={`url(#${id}-hatch)`} />}
				</>
			)}
			<path class="boat-cell" d={cell.path} />
		</g>
	);
}

/** What is left in a cell; where it is most, on ink, so that an eye finds it first. */
function CellNumber({ cell, state }: { cell: Cell; state: CellState | undefined }) {
	const small = cell.width <= 9 || cell.height <= 11;
	if (!state || state.left === 0 || (small && !state.most)) return null;
	const [x, y] = [cell.x + cell.width / 2, cell.y + cell.height / 2];
	const wide = 10 + 9 * String(state.left).length;
	return (
		<>
			{state.most && (
				<rect class="boat-most" x={x - wide / 2} y={y - 10} width={wide} height="20" />
			)}
			<text class={state.most ? "boat-number boat-number-most" : "boat-number"} x={x} y={y}>
				{state.left}
			</text>
		</>
	);
}

function Hatch({ id }: { id: string }) {
	return (
		<defs>
			<pattern id={id} width="6" height="6" patternUnits="userSpaceOnUse">
				<path class="boat-cell-waits" d="M-1 7 7-1M-1 1 1-1M5 7 7 5" />
			</pattern>
		</defs>
	);
}

/** The cell under the finger, or the nearest within 20 of it. */
function nearest(cells: readonly Cell[], px: number, py: number): string | null {
	let best: string | null = null;
	let closest = 20;
	for (const cell of cells) {
		const dx = Math.max(cell.x - px, 0, px - cell.x - cell.width);
		const dy = Math.max(cell.y - py, 0, py - cell.y - cell.height);
		const distance = Math.hypot(dx, dy);
		if (distance < closest) {
			closest = distance;
			best = cell.key;
		}
	}
	return best;
}
