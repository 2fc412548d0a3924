/**
 * What speaks against a sounding or a tank's sizes, offline: reason and range, as the server's
 * forms.py, level.py and sounding.py in its domain/tanks have them (fixtures/contract/soundings.json).
 */
import type { DipMark, Sounding, Tank } from "./contract.ts";
import type { LiquidForPhone } from "./rules.ts";

type Read = Partial<
	Pick<Sounding, "how" | "level_mm" | "sludge_mm" | "temperature_c" | "density_kg_m3">
>;

/** The reason and the range in words, or null where nothing known speaks against it. */
export function refusedSounding(
	tank: Tank,
	read: Read,
	liquid: LiquidForPhone | null = null,
	marks: readonly DipMark[] = [],
): string | null {
	const height = heightOf(tank, marks);
	return (
		refusedLevel(tank, height, read) ??
		refusedSludge(tank, height, read) ??
		refusedTemperature(read.temperature_c ?? null, liquid) ??
		refusedDensity(read.density_kg_m3 ?? null, liquid)
	);
}

/** What can't be of a tank's sizes, or null; what is not measured yet is no fault. */
export function refusedSizes(tank: Tank): string | null {
	const { shape, diameter_mm: across, dish_mm: dish } = tank;
	for (const [name, size] of sizesOf(tank))
		if (size !== null && size <= 0) return `The ${name} is ${size} mm; it must be more than 0 mm.`;
	const round = shape === "lying cylinder" || shape === "standing cylinder";
	if (round && tank.ends === "dished" && across !== null && dish !== null)
		if (!(dish > 0 && dish <= across / 2))
			return `A dish of ${dish} mm: it is deeper than 0 mm and at most the radius, ${across / 2} mm.`;
	const { v_height_mm: v, height_mm: height } = tank;
	if (shape === "v-bottom" && v !== null && height !== null && v > height)
		return `The V is ${v} mm high and the whole tank ${height} mm: measure the height from the very bottom, ${v} mm or more.`;
	return null;
}

function sizesOf(tank: Tank): readonly (readonly [string, number | null])[] {
	const { shape } = tank;
	if (shape === null || shape === "dip table") return [];
	if (shape === "lying cylinder" || shape === "standing cylinder")
		return [
			["diameter", tank.diameter_mm],
			["length without the ends", tank.length_mm],
		];
	return [
		["length", tank.length_mm],
		["width", tank.width_mm],
		["height", tank.height_mm],
	];
}

function refusedLevel(
	tank: Tank,
	height: number | null,
	{ how, level_mm: level }: Read,
): string | null {
	if (level === undefined || level === null) return "The level is missing: write it, in mm.";
	if (how !== "ullage") {
		if (height === null || level <= height) return null;
		return `A level of ${level} mm is above the tank, which is ${height} mm high inside: 0 to ${height} mm.`;
	}
	const most = tank.pipe_top_mm ?? height;
	if (most === null) return null;
	const least = height === null ? 0 : Math.max(0, most - height);
	if (level > most)
		return `${level} mm of ullage reaches below the tank, whose mark is ${most} mm over its lowest point: ${least} to ${most} mm.`;
	if (level < least)
		return `${level} mm of ullage is above the tank, whose top is ${least} mm under the mark: ${least} to ${most} mm.`;
	return null;
}

/** Sludge is a depth over the floor, however the level was read. */
function refusedSludge(
	tank: Tank,
	height: number | null,
	{ how, level_mm: level, sludge_mm: sludge }: Read,
): string | null {
	if (typeof level !== "number" || typeof sludge !== "number") return null;
	const top = how === "ullage" ? (tank.pipe_top_mm ?? height) : null;
	if (how === "ullage" && top === null) return null;
	const depth = top === null ? level : top - level;
	return sludge > depth
		? `Sludge of ${sludge} mm is above the level, which is ${depth} mm over the floor: 0 to ${depth} mm.`
		: null;
}

function refusedTemperature(read: number | null, liquid: LiquidForPhone | null): string | null {
	const { coldest, warmest } = liquid ?? {};
	if (read === null || coldest === undefined || warmest === undefined) return null;
	return read < coldest || read > warmest
		? `A temperature of ${read} °C is outside what the table covers: ${coldest} to ${warmest} °C.`
		: null;
}

function refusedDensity(read: number | null, liquid: LiquidForPhone | null): string | null {
	const { lightest, heaviest } = liquid ?? {};
	if (read === null || lightest === undefined || heaviest === undefined) return null;
	return read < lightest || read > heaviest
		? `A density of ${read} kg/m3 is none of ${liquid?.name.toLowerCase()}: ${lightest} to ${heaviest} kg/m3 at 15 °C.`
		: null;
}

/** Height inside in mm, of a dip table its last line; null where something is not measured. */
function heightOf(tank: Tank, marks: readonly DipMark[]): number | null {
	const { shape, length_mm: length, diameter_mm: across } = tank;
	if (shape === "lying cylinder") return across;
	if (shape === "standing cylinder") {
		if ((tank.ends ?? "flat") === "flat") return length;
		return length === null || across === null ? null : rounded(length + 2 * depthOf(tank, across));
	}
	if (shape !== "dip table") return tank.height_mm;
	const levels = marks
		.filter((mark) => mark.tank === tank.key && mark.volume_l !== null)
		.flatMap(({ level_mm: level }) => (level === null ? [] : [level]));
	return levels.length === 0 ? null : Math.max(...levels);
}

/** How deep an end is; the formulas are those of the server's domain/tanks/forms.py. */
function depthOf(tank: Tank, across: number): number {
	if (tank.ends === "dished") return tank.dish_mm ?? across / 4;
	const knuckle = across * (tank.ends === "torispherical 6 %" ? 0.06 : 0.1);
	return across - Math.sqrt((across - knuckle) ** 2 - (across / 2 - knuckle) ** 2);
}

function rounded(mm: number): number {
	return Number(mm.toFixed(1));
}
