/** The boat as two outlines, plan above profile, bow to the left, and compartments as cells in them.
 *
 * Only length, beam and draught are known, so the shape is a fair guess at a boat of those
 * measures; stations are true to scale along the length, heights and breadths are drawn large
 * enough for a number to be read. Units of the result are those of a drawing 360 wide.
 */
import {
	type Band,
	bandOf,
	type CellLevel,
	type CellPlace,
	type CellSide,
	inLanes,
} from "./cells.ts";

export type { CellLevel, CellPlace, CellSide } from "./cells.ts";

export interface HullMeasures {
	readonly lengthM: number;
	readonly beamM: number;
	readonly draughtM: number;
}

/** A drawn cell: its path, the box round it, and where its number stands. */
export interface Cell {
	readonly key: string;
	readonly path: string;
	readonly x: number;
	readonly y: number;
	readonly width: number;
	readonly height: number;
}

export interface HullDrawing {
	readonly width: number;
	readonly height: number;
	readonly plan: string;
	readonly profile: string;
	readonly waterline: number;
	/** Where the words "starboard" and "port" stand, at the bow. */
	readonly starboardY: number;
	readonly portY: number;
	readonly cells: readonly Cell[];
}

const WIDTH = 360;
const MARGIN = 3;
const SPAN = WIDTH - 2 * MARGIN;
const PLAN_TOP = 4;
const BETWEEN = 18;
const ALOFT = 30;
const DECK = 38;
const SHEER_RISE = 10;
const OUTLINE_SAMPLES = 48;
const CELL_SAMPLES = 8;

/** Half breadth as a share of half the beam, at `t` of the length from the stem. */
export function breadthAt(t: number): number {
	if (t <= 0.56) return Math.sin((Math.PI / 2) * (t / 0.56)) ** 0.78;
	return 1 - 0.36 * ((t - 0.56) / 0.44) ** 2.2;
}

/** Draw the hull, and put every compartment that has a place into the view that shows it best. */
export function drawHull(hull: HullMeasures, places: readonly CellPlace[]): HullDrawing {
	const shape = measure(hull, places);
	const cells = inLanes(places, hull.lengthM).map(({ band, side, lane, of }) => {
		const { key, level } = band.place;
		const edges =
			level === "cabin" ? planEdges(shape, side, lane, of) : profileEdges(shape, level, lane, of);
		return cell(key, band, edges);
	});
	return {
		width: WIDTH,
		height: shape.keel + 4,
		plan: closed(samples(0, 1, OUTLINE_SAMPLES), planEdges(shape, "across", 0, 1)),
		profile: closed(samples(0, 1, OUTLINE_SAMPLES), [shape.sheer, shape.bottom]),
		waterline: shape.water,
		starboardY: PLAN_TOP + 10,
		portY: shape.middle + shape.half - 2,
		cells,
	};
}

/** One compartment in both views at once, for "here it sat". */
export function drawPlace(hull: HullMeasures, place: CellPlace): readonly Cell[] {
	const shape = measure(hull, [place]);
	const band = bandOf(place, hull.lengthM);
	return [
		cell(`${place.key}-plan`, band, planEdges(shape, place.side, 0, 1)),
		cell(`${place.key}-profile`, band, profileEdges(shape, place.level, 0, 1)),
	];
}

type Edge = (t: number) => number;
type Edges = readonly [top: Edge, bottom: Edge];

interface Shape {
	readonly middle: number;
	readonly half: number;
	/** Top of what is drawn above deck. */
	readonly top: number;
	readonly sole: number;
	readonly water: number;
	readonly keel: number;
	readonly sheer: Edge;
	readonly bottom: Edge;
}

function measure(hull: HullMeasures, places: readonly CellPlace[]): Shape {
	const scale = SPAN / hull.lengthM;
	const half = clamp((hull.beamM * scale * 1.45) / 2, 60, 88);
	const middle = PLAN_TOP + half;
	const above = places.some((place) => place.level === "aloft") ? ALOFT + DECK : DECK;
	const top = middle + half + BETWEEN;
	const lowestSheer = top + above + SHEER_RISE;
	const water = lowestSheer + clamp(hull.beamM * scale * 0.3, 26, 40);
	const sole = water + 4;
	const keel = water + clamp(hull.draughtM * scale * 1.15, 56, 76);
	const sheer: Edge = (t) => lowestSheer - SHEER_RISE * ((0.66 - t) / 0.66) ** 2;
	return { middle, half, top, sole, water, keel, sheer, bottom: bottomOf(sheer, water, keel) };
}

/** The underside, convex all along: a spooned bow, a long keel, a stern lifted to the water. */
function bottomOf(sheer: Edge, water: number, keel: number): Edge {
	const bow = 0.44;
	const stern = 0.78;
	return (t) => {
		if (t < bow) {
			const stem = sheer(t);
			return stem + (keel - stem) * Math.sin((Math.PI / 2) * (t / bow)) ** 0.72;
		}
		if (t <= stern) return keel;
		const lift = Math.cos((Math.PI / 2) * ((t - stern) / (1 - stern))) ** 0.7;
		return water - 2 + (keel - water + 2) * lift;
	};
}

function planEdges(shape: Shape, side: CellSide, lane: number, of: number): Edges {
	const [from, to] = SIDES[side];
	const step = (to - from) / of;
	const at =
		(share: number): Edge =>
		(t) =>
			shape.middle + shape.half * breadthAt(t) * share;
	return [at(from + lane * step), at(from + (lane + 1) * step)];
}

/** Bow left, seen from above: starboard is the upper side. */
const SIDES: Record<CellSide, readonly [number, number]> = {
	starboard: [-1, -0.34],
	centre: [-0.34, 0.34],
	port: [0.34, 1],
	across: [-1, 1],
};

function profileEdges(shape: Shape, level: CellLevel, lane: number, of: number): Edges {
	const [top, bottom] = levelEdges(shape, level);
	const between =
		(share: number): Edge =>
		(t) =>
			top(t) + (bottom(t) - top(t)) * share;
	return [between(lane / of), between((lane + 1) / of)];
}

function levelEdges({ top, sheer, sole, bottom }: Shape, level: CellLevel): Edges {
	const deck: Edge = (t) => sheer(t) - DECK;
	if (level === "aloft") return [() => top, deck];
	if (level === "deck") return [deck, sheer];
	const soleAt: Edge = (t) => Math.min(sole, bottom(t));
	return level === "cabin" ? [sheer, soleAt] : [soleAt, bottom];
}

function cell(key: string, { t0, t1 }: Band, edges: Edges): Cell {
	const along = samples(t0, t1, CELL_SAMPLES);
	const middle = (t0 + t1) / 2;
	const [top, bottom] = edges;
	const ys = along.flatMap((t) => [top(t), bottom(t)]);
	const height = Math.max(...ys) - Math.min(...ys);
	const y = (top(middle) + bottom(middle)) / 2 - height / 2;
	return { key, path: closed(along, edges), x: x(t0), y, width: x(t1) - x(t0), height };
}

/** The path along the upper edge and back along the lower one. */
function closed(along: readonly number[], [top, bottom]: Edges): string {
	const there = along.map((t) => `${fix(x(t))} ${fix(top(t))}`);
	const back = along.map((t) => `${fix(x(t))} ${fix(bottom(t))}`).reverse();
	return `M${[...there, ...back].join("L")}Z`;
}

function samples(from: number, to: number, steps: number): number[] {
	return Array.from({ length: steps + 1 }, (_, i) => from + ((to - from) * i) / steps);
}

function x(t: number): number {
	return MARGIN + SPAN * t;
}

function clamp(value: number, low: number, high: number): number {
	return Math.min(high, Math.max(low, value));
}

function fix(value: number): string {
	return value.toFixed(1);
}
