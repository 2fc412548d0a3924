/** A survey template as compartments of this boat. Pure: keys come in. */
import type { Edit } from "../../domain/change.ts";
import type { Compartment } from "../../domain/contract.ts";
import type { Survey, SurveyPlace } from "../../domain/rules.ts";

/** Compartments of `survey` that are not struck, each with its place along `lengthM` metres.
 *
 * Without a length their places stay unknown. One that lay in a struck one lies in what that lay in.
 */
export function templateEdits(
	survey: Survey,
	struck: ReadonlySet<string>,
	lengthM: number | null,
	newKey: () => string,
): Edit[] {
	const kept = survey.compartments.filter(({ id }) => !struck.has(id));
	const keys = new Map(kept.map(({ id }) => [id, newKey()]));
	return kept.map((place) => {
		const within = keptAround(survey, place, keys);
		const set: Partial<Omit<Compartment, "key">> = {
			name: place.name,
			side: place.side as Compartment["side"],
			level: place.level as Compartment["level"],
			...(within ? { within } : {}),
			...(lengthM === null ? {} : stations(place, lengthM)),
		};
		return { table: "compartment", key: keys.get(place.id) as string, set };
	});
}

function keptAround(
	survey: Survey,
	place: SurveyPlace,
	keys: ReadonlyMap<string, string>,
): string | null {
	const seen = new Set<string>();
	for (let at = place.within; at && !seen.has(at); ) {
		const key = keys.get(at);
		if (key) return key;
		seen.add(at);
		at = survey.compartments.find(({ id }) => id === at)?.within ?? "";
	}
	return null;
}

/** To the centimetre: a share of the length is no closer. */
function stations({ along }: SurveyPlace, lengthM: number): { from_m: number; to_m: number } {
	const at = (share: number): number => Math.round(share * lengthM * 100) / 100;
	return { from_m: at(along[0]), to_m: at(along[1]) };
}

/** Kinds that a compartment of this name usually holds, with how many, over all templates. */
export function likelyIn(
	surveys: readonly Survey[],
	name: string,
): readonly (readonly [kind: string, count: number])[] {
	const places = surveys.flatMap(({ compartments }) => compartments);
	const same = places.filter((place) => place.name.toLowerCase() === name.trim().toLowerCase());
	const most = new Map<string, number>();
	for (const { likely } of same)
		for (const [kind, count] of likely) most.set(kind, Math.max(count, most.get(kind) ?? 0));
	return [...most];
}
