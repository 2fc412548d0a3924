/** What a weighing says, offline: the twin of `refusal` and `net_kg` in the server's weighing.py. */
import type { Weighing } from "./contract.ts";

export type Reading = Pick<Weighing, "gross_kg" | "tare_kg" | "division_kg">;

/** Kilograms on the scale, or why the reading can't be a mass and what would do. */
export function netOf({
	gross_kg,
	tare_kg,
	division_kg,
}: Reading): { kg: number } | { why: string } {
	const tare = tare_kg ?? 0;
	if (gross_kg === null)
		return { why: "What the scale showed is missing: it takes a gross mass of more than 0 kg." };
	if (gross_kg < tare)
		return {
			why:
				`${short(gross_kg)} kg gross is less than ${short(tare)} kg empty: the gross must be more ` +
				`than ${short(tare)} kg, or the empty mass less than ${short(gross_kg)} kg.`,
		};
	if (gross_kg === tare)
		return { why: `Nothing was on the scale: the gross must be more than ${short(tare)} kg.` };
	const kg = gross_kg - tare;
	if ((division_kg ?? 0) > kg)
		return {
			why:
				`A scale that counts in ${short(division_kg ?? 0)} kg can't weigh ${short(kg)} kg: use one ` +
				`that counts in ${short(kg)} kg or less.`,
		};
	return { kg };
}

/** The weighings of one thing that count or may be put right, the latest first. */
export function weighingsOf(
	all: ReadonlyMap<string, Weighing>,
	target: string,
): readonly Weighing[] {
	return [...all.values()].filter(({ of }) => of === target).sort(latestFirst);
}

/** The division of the scale that was used last; null before the first. */
export function lastDivision(all: ReadonlyMap<string, Weighing>): number | null {
	const [latest] = [...all.values()].filter((row) => row.division_kg !== null).sort(latestFirst);
	return latest?.division_kg ?? null;
}

function latestFirst(a: Weighing, b: Weighing): number {
	return (Date.parse(b.on ?? "") || 0) - (Date.parse(a.on ?? "") || 0) || (a.key < b.key ? 1 : -1);
}

/** As the server writes numbers in sentences: six figures that mean something, no zeros behind. */
function short(kg: number): string {
	return String(Number(kg.toPrecision(6)));
}
