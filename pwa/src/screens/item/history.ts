/** What a change did, in a plain sentence. Pure: names of other records come in. */
import type { Change } from "../../domain/change.ts";
import type { JsonValue } from "../../domain/contract.ts";

export interface NamesOf {
	compartment(key: string): string;
	place(key: string): string;
	item(key: string): string;
	kind(id: string): string;
	system(id: string): string;
	code(code: string): string;
}

/** What one phone did within a minute. */
export interface Moment {
	/** Of its first change. */
	readonly id: string;
	/** Milliseconds since 1970. */
	readonly ms: number;
	readonly device: string;
	readonly said: readonly string[];
}

const MINUTE_MS = 60_000;

/** Changes as moments, newest first; changes that say nothing to a person are left out. */
export function byMoment(changes: readonly Change[], names: NamesOf): Moment[] {
	const ordered = [...changes].sort((a, b) => (a.stamp < b.stamp ? -1 : 1));
	const moments: { id: string; ms: number; device: string; said: string[] }[] = [];
	for (const change of ordered) {
		const said = tell(change, names);
		if (said.length === 0) continue;
		const ms = Number.parseInt(change.stamp.slice(0, 12), 16);
		const last = moments.at(-1);
		if (last && last.device === change.device && ms - last.ms < MINUTE_MS) last.said.push(...said);
		else moments.push({ id: change.id, ms, device: change.device, said });
	}
	return moments.reverse();
}

/** Sentences for a change of an item, or of a photo, tag or end that belongs to it. */
export function tell(change: Change, names: NamesOf): string[] {
	const { table, key, set } = change;
	if (table === "photo")
		return [set.binned === true ? "Photograph put in the bin" : "Photographed"];
	if (table === "tag")
		return [set.on === null ? `Tag ${names.code(key)} taken off` : `Tag ${names.code(key)} put on`];
	if (table === "end") return [joined(set, names)];
	return itemSentences(set, names);
}

function joined(set: Change["set"], names: NamesOf): string {
	if (set.binned === true) return "A join taken back";
	const to = typeof set.to_item === "string" ? names.item(set.to_item) : set.to_point;
	return to ? `Joined to ${to}` : "A join changed";
}

function itemSentences(set: Change["set"], names: NamesOf): string[] {
	const said = Object.entries(set).map(([field, value]) => one(field, value, names));
	return said.filter((sentence) => sentence !== "");
}

function one(field: string, value: JsonValue, names: NamesOf): string {
	if (field === "out_at" || field === "mass_how") return "";
	if (field === "whereabouts") return WHEREABOUTS[String(value)] ?? "";
	if (field === "binned") return value === true ? "Put in the bin" : "Taken out of the bin";
	if (value === null) return `${LABELS[field] ?? field} cleared`;
	if (field === "compartment") return `Sat in ${names.compartment(String(value))}`;
	if (field === "place") return `Put away in ${names.place(String(value))}`;
	if (field === "system") return `System: ${names.system(String(value))}`;
	if (field === "kind") return `Is a ${names.kind(String(value))}`;
	const unit = UNITS[field] ?? "";
	const words = value === true ? "yes" : value === false ? "no" : String(value);
	return `${LABELS[field] ?? field}: ${words}${unit}`;
}

const WHEREABOUTS: Readonly<Record<string, string>> = {
	ashore: "Taken out",
	aboard: "Noted as aboard",
	gone: "Gone",
};

const LABELS: Readonly<Record<string, string>> = {
	name: "Named",
	kind: "Kind",
	system: "System",
	compartment: "Compartment",
	sat: "Where exactly",
	condition: "Condition",
	fate: "Fate",
	place: "Place",
	container: "Container",
	fastened: "Fastened",
	note: "Note",
	count: "Number",
	material: "Material",
	size: "Size",
	length_mm: "Length",
	width_mm: "Width",
	height_mm: "Height",
	thickness_mm: "Thickness",
	volume_l: "Holds",
	capacity_ah: "Capacity",
	voltage_v: "Voltage",
	mass_kg: "Mass",
	hours: "Hours",
	leaking: "Leaking",
	drained: "Drained",
	soaked_in: "Soaked in",
	flash_point_c: "Flash point",
	lead: "Lead",
	asbestos: "Asbestos",
};

const UNITS: Readonly<Record<string, string>> = {
	length_mm: " mm",
	width_mm: " mm",
	height_mm: " mm",
	thickness_mm: " mm",
	volume_l: " L",
	capacity_ah: " Ah",
	voltage_v: " V",
	mass_kg: " kg",
	hours: " h",
	flash_point_c: " °C",
};
