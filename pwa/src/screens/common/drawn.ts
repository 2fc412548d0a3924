/** What of the boat can be drawn: its measures, and the compartments that have a place in it. */
import type { Compartment } from "../../domain/contract.ts";
import { boat } from "../../storage/boat.ts";
import type { CellPlace, HullMeasures } from "../../ui/hull.ts";

/** Beam and draught of a boat of this length, where they are not given yet; a guess for a drawing. */
const BEAM_SHARE = 0.31;
const DRAUGHT_SHARE = 0.14;

/** The chosen boat's record, if it has arrived. */
export function theBoat() {
	return boat.table("boat").value.get(boat.key.value ?? "");
}

/** Null while the length is unknown. */
export function hullOf(): HullMeasures | null {
	const record = theBoat();
	if (!record?.length_m) return null;
	const lengthM = record.length_m;
	return {
		lengthM,
		beamM: record.beam_m || lengthM * BEAM_SHARE,
		draughtM: record.draught_m || lengthM * DRAUGHT_SHARE,
	};
}

/** A compartment that holds others is drawn as their middle, unless it is most of the boat. */
const TOO_LONG_SHARE = 0.5;

/** Compartments with a station: the cells of the drawing. */
export function drawnPlaces(): CellPlace[] {
	const all = [...boat.table("compartment").value.values()];
	const parents = new Set(all.filter(hasStation).map((compartment) => compartment.within));
	const longest = (theBoat()?.length_m ?? 0) * TOO_LONG_SHARE;
	return all
		.map(asPlace)
		.filter((place) => place !== null)
		.filter((place) => !parents.has(place.key) || place.toM - place.fromM < longest);
}

/** Its own place, else that of the compartment it lies in. */
export function placeOf(key: string | null): CellPlace | null {
	const compartments = boat.table("compartment").value;
	let at = key;
	for (let step = 0; at !== null && step <= compartments.size; step += 1) {
		const compartment = compartments.get(at);
		if (!compartment) return null;
		const place = asPlace(compartment);
		if (place) return place;
		at = compartment.within;
	}
	return null;
}

function asPlace(compartment: Compartment): CellPlace | null {
	if (!hasStation(compartment)) return null;
	return {
		key: compartment.key,
		side: compartment.side ?? "across",
		level: compartment.level ?? "cabin",
		fromM: compartment.from_m ?? 0,
		toM: compartment.to_m ?? 0,
	};
}

function hasStation(compartment: Compartment): boolean {
	return compartment.from_m !== null && compartment.to_m !== null;
}
