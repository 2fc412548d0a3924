/** The boat as two outlines, plan above profile, bow to the left, and compartments as cells in them.
 *
 * Only length, beam and draught are known, so the shape is a fair guess at a boat of those
 * measures; stations are true to scale along the length, heights and breadths are drawn large
 * enough for a number to be read. Units of the result are those of a drawing 360 wide.
 */

export interface HullMeasures {
	readonly lengthM: number;
	readonly beamM: number;
	readonly draughtM: number;
}

export type CellSide = "port" | "centre" | "starboard" | "across";
export type CellLevel = "aloft" | "deck" | "cabin" | "under sole";

/** A compartment to draw; stations in metres aft of the stem. */
export interface CellPlace {
	readonly key: string;
	readonly side: CellSide;
	readonly level: CellLevel;
	readonly fromM: number;
	readonly toM: number;
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
	readonly planMiddle: number;
	readonly cells: readonly Cell[];
}

const WIDTH = 360;
const MARGIN = 4;
const SPAN = WIDTH - 2 * MARGIN;
const PLAN_TOP = 18;
const ALOFT = 34;
const DECK = 30;
const SAMPLES = 12;

/** Half breadth as a share of half the beam, at `t` of the length from the stem. */
export function breadthAt(t: number): number {
	if (t <= 0.58) return Math.sin((Math.PI / 2) * (t / 0.58)) ** 0.8;
	return 1 - 0.38 * ((t - 0.58) / 0.42) ** 2;
}

/** Draw the hull and put every compartment that has a place into the view that shows it best. */
export function drawHull(hull: HullMeasures, places: readonly CellPlace[]): HullDrawing {
	const shape = measure(hull, places);
	const inPlan = places.filter((place) => place.level === "cabin");
	const inProfile = places.filter((place) => place.level !== "cabin");
	return {
		width: WIDTH,
		height: shape.bottom + 6,
		plan: planPath(shape),
		profile: profilePath(shape),
		waterline: shape.water,
		planMiddle: shape.middle,
		cells: [...lanes(inPlan, hull, shape), ...lanes(inProfile, hull, shape)],
	};
}

/** One compartment in both views at once, for "here it sat". */
export function drawPlace(hull: HullMeasures, place: CellPlace): readonly Cell[] {
	const shape = measure(hull, [place]);
	const band = bandOf(place, hull);
	return [
		cell(`${place.key}-plan`, band.t0, band.t1, planEdges(shape, place.side, 0, 1)),
		cell(`${place.key}-profile`, band.t0, band.t1, profileEdges(shape, place.level, 0, 1)),
	];
}

interface Shape {
	readonly middle: number;
	readonly half: number;
	readonly deckTop: number;
	readonly sheer: number;
	readonly sole: number;
	readonly water: number;
	readonly keel: number;
	readonly bottom: number;
}

type Edge = (t: number) => number;
type Edges = readonly [top: Edge, bottom: Edge];

function measure(hull: HullMeasures, places: readonly CellPlace[]): Shape {
	const scale = SPAN / hull.lengthM;
	const half = clamp((hull.beamM * scale * 1.4) / 2, 56, 84);
	const middle = PLAN_TOP + half;
	const deckTop =
		middle + half + 20 + (places.some((place) => place.level === "aloft") ? ALOFT : 0);
	const sheer = deckTop + DECK;
	const sole = sheer + clamp(hull.beamM * scale * 0.45, 40, 56);
	const keel = sole + clamp(hull.draughtM * scale, 36, 60);
	return { middle, half, deckTop, sheer, sole, water: sole - 8, keel, bottom: keel };
}

function planPath(shape: Shape): string {
	return cell("plan", 0, 1, planEdges(shape, "across", 0, 1)).path;
}

function profilePath(shape: Shape): string {
	const at = (t: number, y: number): string => `${fix(x(t))} ${fix(y)}`;
	const top = samples(0, 1).map((t) => at(t, sheerAt(shape, t)));
	const under = samples(0.04, 0.96)
		.reverse()
		.map((t) => at(t, keelAt(shape, t)));
	return `M${[...top, ...under].join("L")}Z`;
}

/** The sheer: highest at the stem, lowest two thirds aft. */
function sheerAt(shape: Shape, t: number): number {
	return shape.sheer - 12 * (1 - t / 0.68) ** 2;
}

/** The underside: a raked stem, a long keel, a lifted stern. */
function keelAt(shape: Shape, t: number): number {
	const fore = Math.min(1, Math.max(0, (t - 0.04) / 0.3)) ** 0.7;
	const aft = Math.min(1, Math.max(0, (0.98 - t) / 0.16)) ** 0.6;
	const sag = shape.keel - shape.water + 14;
	return shape.water - 14 + sag * Math.min(fore, aft);
}

function planEdges(shape: Shape, side: CellSide, lane: number, of: number): Edges {
	const [from, to] = SIDES[side];
	const step = (to - from) / of;
	const a = from + lane * step;
	const b = a + step;
	return [
		(t) => shape.middle + shape.half * breadthAt(t) * a,
		(t) => shape.middle + shape.half * breadthAt(t) * b,
	];
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

function levelEdges(shape: Shape, level: CellLevel): Edges {
	const sheer: Edge = (t) => sheerAt(shape, t);
	const sole: Edge = (t) => Math.min(shape.sole, keelAt(shape, t));
	const keel: Edge = (t) => keelAt(shape, t);
	if (level === "aloft") return [() => shape.deckTop - ALOFT, (t) => sheer(t) - DECK];
	if (level === "deck") return [(t) => sheer(t) - DECK, sheer];
	if (level === "cabin") return [sheer, sole];
	return [(t) => Math.min(shape.sole, keelAt(shape, t) - 4), keel];
}

interface Band {
	readonly place: CellPlace;
	readonly t0: number;
	readonly t1: number;
}

function bandOf(place: CellPlace, hull: HullMeasures): Band {
	const t0 = clamp(Math.min(place.fromM, place.toM) / hull.lengthM, 0, 0.99);
	const t1 = clamp(Math.max(place.fromM, place.toM) / hull.lengthM, t0 + 0.01, 1);
	return { place, t0, t1 };
}

/** Cells that would lie on each other share the breadth or height in lanes. */
function lanes(places: readonly CellPlace[], hull: HullMeasures, shape: Shape): Cell[] {
	const bands = places.map((place) => bandOf(place, hull));
	return bands.map((band) => {
		const rivals = bands.filter((other) => overlap(band, other));
		const lane = rivals.indexOf(band);
		const { level, side, key } = band.place;
		const edges =
			level === "cabin"
				? planEdges(shape, side, lane, rivals.length)
				: profileEdges(shape, level, lane, rivals.length);
		return cell(key, band.t0, band.t1, edges);
	});
}

function overlap(a: Band, b: Band): boolean {
	const apart = Math.min(a.t1, b.t1) - Math.max(a.t0, b.t0);
	if (apart <= 0.005 || a.place.level !== b.place.level) return false;
	if (a.place.level !== "cabin") return true;
	return a.place.side === b.place.side || a.place.side === "across" || b.place.side === "across";
}

function cell(key: string, t0: number, t1: number, [top, bottom]: Edges): Cell {
	const along = samples(t0, t1);
	const upper = along.map((t) => [x(t), top(t)] as const);
	const lower = along.map((t) => [x(t), bottom(t)] as const).reverse();
	const points = [...upper, ...lower];
	const ys = points.map(([, y]) => y);
	const middle = (t0 + t1) / 2;
	const height = Math.max(...ys) - Math.min(...ys);
	const path = `M${points.map(([px, py]) => `${fix(px)} ${fix(py)}`).join("L")}Z`;
	return {
		key,
		path,
		x: x(t0),
		y: (top(middle) + bottom(middle)) / 2 - height / 2,
		width: x(t1) - x(t0),
		height,
	};
}

function samples(from: number, to: number): number[] {
	return Array.from({ length: SAMPLES + 1 }, (_, i) => from + ((to - from) * i) / SAMPLES);
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
