/** What a sounding can't be, by the sizes of the tank: said before it is kept, also without the server. */
import type { Sounding, Tank } from "./contract.ts";

type Read = Partial<Pick<Sounding, "how" | "level_mm" | "sludge_mm">>;

/** The reason and the range in words, or null where nothing known speaks against it. */
export function refusedSounding(tank: Tank, read: Read): string | null {
	const { level_mm: level, sludge_mm: sludge } = read;
	if (level === undefined || level === null) return "Write the level first, in mm.";
	const ullage = read.how === "ullage";
	const most = ullage ? tank.pipe_top_mm : heightOf(tank);
	if (most !== null && level > most)
		return ullage
			? `${level} mm of ullage reaches below the tank, whose mark is ${most} mm over its lowest point: 0 to ${most} mm.`
			: `A level of ${level} mm is above the tank, which is ${most} mm high inside: 0 to ${most} mm.`;
	if (!ullage && sludge && sludge > level)
		return `Sludge of ${sludge} mm is above the level of ${level} mm: 0 to ${level} mm.`;
	return null;
}

/** Height inside in mm; null where it isn't measured, or is known by the server only (ends, dip table). */
function heightOf(tank: Tank): number | null {
	if (tank.shape === "lying cylinder") return tank.diameter_mm;
	if (tank.shape === "standing cylinder")
		return (tank.ends ?? "flat") === "flat" ? tank.length_mm : null;
	return tank.shape === "dip table" ? null : tank.height_mm;
}
