/** Which part of the drawing each compartment gets, so that no cell lies on another. */

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

/** From and to as shares of the boat's length. */
export interface Band {
	readonly place: CellPlace;
	readonly t0: number;
	readonly t1: number;
}

/** A band in one of `of` equal lanes, counted from starboard or from above. */
export interface Laned {
	readonly band: Band;
	readonly side: CellSide;
	readonly lane: number;
	readonly of: number;
}

const THINNEST = 0.012;
const TOUCHING = 0.004;

export function bandOf(place: CellPlace, lengthM: number): Band {
	const t0 = Math.min(Math.max(Math.min(place.fromM, place.toM) / lengthM, 0), 1 - THINNEST);
	const t1 = Math.min(Math.max(Math.max(place.fromM, place.toM) / lengthM, t0 + THINNEST), 1);
	return { place, t0, t1 };
}

/** Cells that share a side and level, and would overlap, share its breadth or height in lanes. */
export function inLanes(places: readonly CellPlace[], lengthM: number): Laned[] {
	const bands = places.map((place) => bandOf(place, lengthM));
	const groups = new Map<string, { side: CellSide; bands: Band[] }>();
	for (const band of bands) {
		const side = sideIn(band, bands);
		const name = `${band.place.level} ${side}`;
		const group = groups.get(name) ?? { side, bands: [] };
		group.bands.push(band);
		groups.set(name, group);
	}
	return [...groups.values()].flatMap(({ side, bands: group }) => lanesOf(group, side));
}

/** What goes right across keeps the middle where something else lies at its side. */
function sideIn(band: Band, all: readonly Band[]): CellSide {
	if (band.place.level !== "cabin") return "across";
	if (band.place.side !== "across") return band.place.side;
	const crowded = all.some(
		(other) =>
			other.place.level === "cabin" && other.place.side !== "across" && overlap(band, other),
	);
	return crowded ? "centre" : "across";
}

function lanesOf(bands: readonly Band[], side: CellSide): Laned[] {
	const found: Laned[] = [];
	for (const cluster of clusters(bands)) {
		const ends: number[] = [];
		const placed = cluster.map((band) => {
			const free = ends.findIndex((end) => end - band.t0 <= TOUCHING);
			const lane = free === -1 ? ends.length : free;
			ends[lane] = band.t1;
			return { band, lane };
		});
		for (const { band, lane } of placed) found.push({ band, side, lane, of: ends.length });
	}
	return found;
}

/** Runs of bands that overlap in a chain, each in order from the stem. */
function clusters(bands: readonly Band[]): Band[][] {
	const found: Band[][] = [];
	let end = Number.NEGATIVE_INFINITY;
	for (const band of [...bands].sort((a, b) => a.t0 - b.t0)) {
		const last = found.at(-1);
		if (last && end - band.t0 > TOUCHING) last.push(band);
		else found.push([band]);
		end = Math.max(end, band.t1);
	}
	return found;
}

function overlap(a: Band, b: Band): boolean {
	return Math.min(a.t1, b.t1) - Math.max(a.t0, b.t0) > TOUCHING;
}
