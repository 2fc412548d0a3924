/** What a change did, in a plain sentence. Pure: names of other records come in. */
import type { Change } from "../../domain/change.ts";
import type { JsonValue } from "../../domain/contract.ts";
import { millisecondsOf } from "../../domain/stamp.ts";
import { sentence } from "../../ui/words.ts";
import { fieldName, type NamesOf, valueWords } from "./fieldWords.ts";

/** One change, and what it did. */
export interface Told<C extends Change = Change> {
	readonly change: C;
	readonly said: readonly string[];
}

/** What one phone did within a minute. */
export interface Moment<C extends Change = Change> {
	/** Of its first change. */
	readonly id: string;
	/** Milliseconds since 1970. */
	readonly ms: number;
	readonly device: string;
	/** In the order in which they were made. */
	readonly told: readonly Told<C>[];
}

const MINUTE_MS = 60_000;

/** Changes as moments, newest first; changes that say nothing to a person are left out. */
export function byMoment<C extends Change>(changes: readonly C[], names: NamesOf): Moment<C>[] {
	const ordered = [...changes].sort((a, b) => (a.stamp < b.stamp ? -1 : 1));
	const moments: { id: string; ms: number; device: string; told: Told<C>[] }[] = [];
	for (const change of ordered) {
		const said = tell(change, names);
		if (said.length === 0) continue;
		const ms = millisecondsOf(change.stamp);
		const { id, device } = change;
		const last = moments.at(-1);
		if (last && last.device === device && ms - last.ms < MINUTE_MS)
			last.told.push({ change, said });
		else moments.push({ id, ms, device, told: [{ change, said }] });
	}
	return moments.reverse();
}

/** Sentences for a change of a record, or of a photo, tag, note or end that belongs to it. */
export function tell(change: Change, names: NamesOf): string[] {
	const { table, key, set } = change;
	if (table === "photo") return [photographed(set)];
	if (table === "tag") return [tagged(key, set, names)];
	if (table === "end") return [joined(set, names)];
	const told = Object.entries(set).filter(
		([field]) => field !== "whereabouts" || cameOutNow(change),
	);
	const said = told.map(([field, value]) => one(table, field, value, names));
	return said.filter((words) => words !== "");
}

/** What is put away says again that it is ashore; it came out then only if it came out then. */
function cameOutNow({ table, set, stamp }: Change): boolean {
	const { place, container, whereabouts, out_at: out } = set;
	if (table !== "item" || whereabouts !== "ashore" || !(place || container)) return true;
	return typeof out !== "string" || millisecondsOf(stamp) - Date.parse(out) < MINUTE_MS;
}

function photographed(set: Change["set"]): string {
	if (set.binned === true) return "Photograph put in the bin";
	if ("binned" in set) return "Photograph taken out of the bin";
	return "sha256" in set || "of" in set ? "Photographed" : "Photograph changed";
}

function tagged(code: string, set: Change["set"], names: NamesOf): string {
	const tag = `Tag ${names.code(code)}`;
	if (set.binned === true || set.on === null) return `${tag} taken off`;
	if (typeof set.on !== "string") return `${tag} put back`;
	return `${tag} put on`;
}

function joined(set: Change["set"], names: NamesOf): string {
	if (set.binned === true) return "A join taken back";
	const to = typeof set.to_item === "string" ? names.record("item", set.to_item) : set.to_point;
	return to ? `Joined to ${to}` : "A join changed";
}

/** Beside the entry stands its moment anyway, and the mass says how it is known. */
const LEFT_OUT = new Set(["out_at", "mass_how"]);

/** A correction is told on the screen of its handover only. */
const TOLD_BY_THE_SCREEN = new Set(["correction/handover"]);

function one(table: string, field: string, value: JsonValue, names: NamesOf): string {
	if (LEFT_OUT.has(field) || TOLD_BY_THE_SCREEN.has(`${table}/${field}`)) return "";
	if (field === "binned") return value === true ? "Put in the bin" : "Taken out of the bin";
	const name = fieldName(table, field);
	if (value === null) return `${name} cleared`;
	if (table === "item") {
		if (field === "whereabouts") return WHEREABOUTS[String(value)] ?? "";
		const opening = OPENINGS[field];
		if (opening) return `${opening} ${valueWords(table, field, value, names)}`;
	}
	if (field === "name") return `Named: ${value}`;
	return sentence(`${name}: ${valueWords(table, field, value, names)}`);
}

const OPENINGS: Readonly<Record<string, string>> = {
	compartment: "Sat in",
	place: "Put away in",
	container: "Put into",
};

const WHEREABOUTS: Readonly<Record<string, string>> = {
	ashore: "Taken out",
	aboard: "Noted as aboard",
	gone: "Gone",
};
