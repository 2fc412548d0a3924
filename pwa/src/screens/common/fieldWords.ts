/** Fields and their values in the words of a person. Pure: names of other records come in. */
import type { JsonValue } from "../../domain/contract.ts";
import { SHAPES } from "../../domain/fields.ts";
import { isTable } from "../../domain/read.ts";
import { clock, day } from "../../ui/words.ts";

export interface NamesOf {
	/** `Galley, under the sink`, `Raw water pump`: a record that a field points to. */
	record(table: string, key: string): string;
	kind(id: string): string;
	system(id: string): string;
	ruleSet(id: string): string;
	stream(id: string): string;
	material(id: string): string;
	code(code: string): string;
}

/** Units that read worse than the bare number. */
const UNSPOKEN = new Set(["pieces", "people", "year", "currency units"]);
const SIGNS: Readonly<Record<string, string>> = { m2: "m²" };

/** What a field is called, like `Condition`. */
export function fieldName(table: string, field: string): string {
	return SPECIAL[`${table}/${field}`] ?? COMMON[field] ?? field.replaceAll("_", " ");
}

/** What a value says, like `12 kg` or `yes`; `nothing` for a cleared field. */
export function valueWords(table: string, field: string, value: JsonValue, names: NamesOf): string {
	if (value === null || value === "") return "nothing";
	if (value === true) return "yes";
	if (value === false) return "no";
	if (field === "kind") return names.kind(String(value));
	if (field === "system") return names.system(String(value));
	if (field === "rule_set") return names.ruleSet(String(value));
	if (field === "stream") return names.stream(String(value));
	if (field === "material") return names.material(String(value));
	const shape = isTable(table) ? SHAPES[table][field] : undefined;
	if (shape?.is === "ref") return names.record(shape.table, String(value));
	if (shape?.is === "target") return targetWords(String(value), names);
	if (shape?.is === "moment") return momentWords(String(value));
	if ((shape?.is === "number" || shape?.is === "whole") && shape.unit && !UNSPOKEN.has(shape.unit))
		return `${value} ${SIGNS[shape.unit] ?? shape.unit}`;
	return String(value);
}

/** `4 May, 14:32`, with the year where it is not this one. */
export function whenWords(ms: number): string {
	const at = new Date(ms);
	return `${dateWords(at)}, ${clock(at)}`;
}

function dateWords(at: Date): string {
	const date = day(at);
	const year = ` ${new Date().getFullYear()}`;
	return date.endsWith(year) ? date.slice(0, -year.length) : date;
}

function targetWords(target: string, names: NamesOf): string {
	const [table = "", key = ""] = target.split("/");
	return names.record(table, key);
}

const A_DAY = /^(\d{4}-\d\d-\d\d)(T00:00(:00(\.0+)?)?Z?)?$/;

function momentWords(text: string): string {
	// A day that was chosen has no hour to tell.
	const on = A_DAY.exec(text)?.[1];
	if (on) return dateWords(new Date(`${on}T12:00:00`));
	const ms = Date.parse(text);
	return Number.isNaN(ms) ? text : whenWords(ms);
}

const SPECIAL: Readonly<Record<string, string>> = {
	"boat/built": "Built in",
	"boat/length_m": "Length",
	"compartment/within": "Lies in",
	"place/within": "Stands in",
	"place/sort": "Sort of place",
	"container/sort": "Sort of container",
	"tag/on": "Hangs on",
	"photo/of": "Shows",
	"note/of": "About",
	"before/first": "First",
	"before/then": "Then",
	"weighing/of": "On the scale",
	"weighing/on": "When",
	"weighed/weighing": "Weighing",
	"lift/of": "Lifted",
	"lift/on": "When",
	"eye/lift": "Lift",
	"eye/rated_kg": "Rated",
	"leftover/spec": "A length of",
	"price/spec": "Price of",
	"price/per": "Sold by the",
	"price/length_mm": "Length of the reel",
	"device/name": "Name of the phone",
};

const COMMON: Readonly<Record<string, string>> = {
	amount: "Price",
	area_m2: "Area",
	asbestos: "Asbestos",
	battery_out: "Battery taken out",
	beam_m: "Beam",
	binned: "In the bin",
	boxed_at: "Put in",
	capacity_ah: "Capacity",
	capacity_l: "Holds",
	carrier: "Carrier",
	caption: "Caption",
	closed_at: "Closed",
	compartment: "Compartment",
	condition: "Condition",
	container: "Container",
	count: "Number",
	cured: "Cured through",
	currency: "Currency",
	damaged: "Swollen, dented, hot or wet",
	deregistered: "Registry told",
	document: "Document",
	done_at: "Done",
	drained: "Drained",
	draught_m: "Draught",
	fastened: "Fastened",
	emptied: "Empty",
	fate: "Fate",
	filled_percent: "How full it looks",
	filling: "Filled with",

	flash_point_c: "Flash point",
	fluorinated: "Fluorine in the foam",
	from_m: "Begins",
	gross_kg: "Full weight",
	division_kg: "The scale counts in",
	halogens_ppm: "Halogens",
	handover: "Handed over",
	height_mm: "Height",
	holder: "Whose waste it is",
	hours: "Hours",
	hull: "Hull",
	ionising: "Radiation sign",
	item: "Item",
	job: "Job",
	joined: "How it is joined",
	kind: "Kind",
	label: "End",
	lead: "Lead",
	leaking: "Leaking",
	length_mm: "Length",
	level: "Level",
	limit_kg: "May hold",
	liquid: "What the liquid is",
	mass_how: "How the mass is known",
	mass_kg: "Mass",
	material: "Material",
	name: "Name",
	note: "Note",
	on: "Day",
	opened_at: "Opened",
	out_at: "Taken out",
	pcb: "PCB",
	people: "People",
	per: "Price for each",
	place: "Place",
	refrigerant: "Refrigerant",
	rule_area: "Where in the rules' land",
	rule_set: "Waste rules",
	owner: "Owner",
	lies_at: "Where she lies",
	sat: "Where exactly",
	sealed_at: "Handed over, list frozen",
	side: "Side",
	size: "Size",
	soaked_in: "Soaked in",
	spec: "Specification",
	stream: "Stream",
	supplier: "Supplier",
	system: "System",
	tare_kg: "Empty weight",
	task: "Task",
	text: "Note",
	thickness_mm: "Thickness",
	to: "Handed to",
	to_item: "Joined to",
	to_m: "Ends",
	to_point: "Joined to",
	voltage_v: "Voltage",
	volume_l: "Holds",
	whereabouts: "Whereabouts",
	who: "Who",
	why: "Why",
	width_mm: "Width",
	measured_from: "Measured from",
	centre_aft_m: "Middle of mass, aft",
	centre_off_m: "Middle of mass, to starboard",
	centre_up_m: "Middle of mass, up",
	centre_sure_m: "Middle of mass, off by",
	hook_aft_m: "Hook, aft",
	hook_off_m: "Hook, to starboard",
	hook_up_m: "Hook, up",
	hook_rated_kg: "Hook rated",
	leg_rated_kg: "Each leg rated",
	waterline_m: "Waterline",
	waterline_beam_m: "Beam at the waterline",
	bow_overhang_m: "Stem to waterline",
	displacement_kg: "Displacement",
	waterplane_m2: "Area of the waterplane",
	float_centre_m: "Centre of floating",
	trim_moment: "Moment to trim",
	gm_m: "GM",
	draught_fore_m: "Draught forward",
	draught_aft_m: "Draught aft",
	afloat_in: "Floats in",
	part_of: "Part of",
	mass_apart: "Weighed apart",
	never_aboard: "Goes in new",
	replaces: "In the place of",
	bought_at: "Bought on",
	arrived_at: "Arrived on",
	fitted_at: "Fitted on",
	from_price: "Offer that was taken",
	aft_m: "Aft",
	off_m: "To starboard",
	up_m: "Up",
	load_a: "Load",
	load_w: "Load",
	duty: "Runs for",
	critical: "Must not sag",
	return_mm: "Way back",
	hot_space: "Through the engine space",
	ambient_c: "Warmest around it",
	bundled: "Loaded conductors together",
	insulation_c: "Insulation stands",
	sheathed: "Both in one sheath",
	fuse_a: "Fuse",
	trunking: "Trunking",
	new_size: "New size",
	service: "What flows in it",
	thread: "Thread",
	line: "Line",
	standard: "Standard",
	bore_mm: "Inside",
	outside_mm: "Outside",
	thread_family: "Family of the thread",
	thread_size: "Size of the thread",
	clamps_each_end: "Clamps at each end",
	conductor: "Conductor",
	cores: "Cores",
	tinned: "Tinned",
	colour: "Colour",
	bought_as: "Bought as the line",
	substitute: "May be replaced by",
	allowance: "More than it measures",
	each_end_mm: "More for each end",
	pieces: "Pieces in a pack",
	from_cut: "Left when the line was cut",
	stud: "Stud",
};
