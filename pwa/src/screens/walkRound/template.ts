/** A survey template as compartments of this boat. Pure: keys come in. */
import type { Edit } from "../../domain/change.ts";
import type { Compartment, Item } from "../../domain/contract.ts";
import type { Survey, SurveyPlace } from "../../domain/rules.ts";

export interface Chosen {
	/** Ids of compartments that this boat has not. */
	readonly struck: ReadonlySet<string>;
	/** List what is likely in them too, with the orders among it. */
	readonly listing: boolean;
}

/** Compartments of `survey` that are not struck, each with its place along `lengthM` metres.
 *
 * Without a length their places stay unknown. One that lay in a struck one lies in what that lay in.
 */
export function templateEdits(
	survey: Survey,
	{ struck, listing }: Chosen,
	lengthM: number | null,
	newKey: () => string,
): Edit[] {
	const kept = survey.compartments.filter(({ id }) => !struck.has(id));
	const keys = new Map(kept.map(({ id }) => [id, newKey()]));
	const places = kept.map((place) => {
		const within = keptAround(survey, place, keys);
		const set: Partial<Omit<Compartment, "key">> = {
			name: place.name,
			side: place.side as Compartment["side"],
			level: place.level as Compartment["level"],
			...(within ? { within } : {}),
			...(lengthM === null ? {} : stations(place, lengthM)),
		};
		return { table: "compartment", key: keys.get(place.id) as string, set } as const;
	});
	return listing ? [...places, ...listEdits(survey, kept, keys, newKey)] : places;
}

function listEdits(
	survey: Survey,
	kept: readonly SurveyPlace[],
	places: ReadonlyMap<string, string>,
	newKey: () => string,
): Edit[] {
	const items = new Map<string, string>();
	const edits: Edit[] = [];
	for (const { id, likely } of kept)
		for (const [kind, count] of likely) {
			const key = newKey();
			items.set(`${id}/${kind}`, key);
			edits.push({ table: "item", key, set: listedSet(kind, count, places.get(id) as string) });
		}
	for (const { first, then, why } of survey.orders ?? []) {
		const [one, other] = [items.get(first), items.get(then)];
		if (!one || !other) continue;
		const set = { first: `item/${one}`, then: `item/${other}`, why };
		edits.push({ table: "before", key: newKey(), set });
	}
	return edits;
}

/** An item as a walk-round lists it. */
export function listedSet(
	kind: string,
	count: number,
	compartment: string,
): Partial<Omit<Item, "key">> {
	return { kind, compartment, whereabouts: "aboard", ...(count > 1 ? { count } : {}) };
}

/** How many pieces and orders come with the compartments that are kept. */
export function listedCount(
	survey: Survey,
	struck: ReadonlySet<string>,
): { pieces: number; orders: number } {
	const kept = survey.compartments.filter(({ id }) => !struck.has(id));
	const there = new Set(kept.flatMap(({ id, likely }) => likely.map(([kind]) => `${id}/${kind}`)));
	return {
		pieces: kept.flatMap(({ likely }) => likely).reduce((sum, [, count]) => sum + count, 0),
		orders: (survey.orders ?? []).filter(({ first, then }) => there.has(first) && there.has(then))
			.length,
	};
}

/** Orders of the survey between what is listed and aboard, one for each pair of items. */
export function surveyOrders(
	survey: Survey,
	compartments: Iterable<Compartment>,
	aboard: Iterable<Item>,
): { first: string; then: string; why: string }[] {
	const ids = new Map(survey.compartments.map(({ id, name }) => [name.toLowerCase(), id]));
	const placed = new Map<string, string>();
	for (const { key, name } of compartments) {
		const id = ids.get((name ?? "").trim().toLowerCase());
		if (id) placed.set(key, id);
	}
	const held = new Map<string, string[]>();
	for (const { key, kind, compartment } of aboard) {
		const id = placed.get(compartment ?? "");
		if (!id || !kind) continue;
		const at = `${id}/${kind}`;
		held.set(at, [...(held.get(at) ?? []), `item/${key}`]);
	}
	return (survey.orders ?? []).flatMap(({ first, then, why }) =>
		(held.get(first) ?? []).flatMap((one) =>
			(held.get(then) ?? []).map((other) => ({ first: one, then: other, why })),
		),
	);
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

/** Kinds that a compartment of this name usually holds, with how many.
 *
 * The chosen survey says it where it knows the compartment; else whichever surveys do, the most of
 * each kind.
 */
export function likelyIn(
	surveys: readonly Survey[],
	name: string,
	chosen: string | null,
): readonly (readonly [kind: string, count: number])[] {
	const own = placesNamed(
		surveys.filter(({ id }) => id === chosen),
		name,
	);
	const most = new Map<string, number>();
	for (const { likely } of own.length > 0 ? own : placesNamed(surveys, name))
		for (const [kind, count] of likely) most.set(kind, Math.max(count, most.get(kind) ?? 0));
	return [...most];
}

function placesNamed(surveys: readonly Survey[], name: string): SurveyPlace[] {
	const wanted = name.trim().toLowerCase();
	return surveys
		.flatMap(({ compartments }) => compartments)
		.filter((place) => place.name.toLowerCase() === wanted);
}
