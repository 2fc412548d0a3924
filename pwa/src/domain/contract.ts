// Generated from the record and list classes of the server by `python -m shedtally.contract`.
// Edit records.py or lists.py and run it again; a test compares.

export type JsonValue = string | number | boolean | null;
export type Values = Readonly<Record<string, JsonValue>>;

/** What a field may hold. Numbers lie from `low` to `high` in `unit`, both ends allowed. */
export type FieldShape =
	| { readonly is: "number" | "whole"; readonly low?: number; readonly high?: number; readonly unit?: string }
	| { readonly is: "text"; readonly longest: number; readonly pattern?: string }
	| { readonly is: "choice"; readonly of: readonly string[] }
	| { readonly is: "yes or no" }
	| { readonly is: "moment" }
	| { readonly is: "ref"; readonly table: string }
	| { readonly is: "target"; readonly tables: readonly string[] };

/** The vessel; its rule set and holder decide which waste list applies. */
export interface Boat {
	readonly key: string;
	readonly binned: boolean | null;
	readonly name: string | null;
	readonly built: number | null;
	readonly hull: string | null;
	readonly length_m: number | null;
	readonly beam_m: number | null;
	readonly draught_m: number | null;
	readonly rule_set: string | null;
	readonly holder: "household" | "business" | null;
	readonly note: string | null;
}

/** A place in the boat; `from_m` and `to_m` are measured aft from the stem. */
export interface Compartment {
	readonly key: string;
	readonly binned: boolean | null;
	readonly name: string | null;
	readonly within: string | null;
	readonly side: "port" | "centre" | "starboard" | "across" | null;
	readonly level: "aloft" | "deck" | "cabin" | "under sole" | null;
	readonly from_m: number | null;
	readonly to_m: number | null;
}

/** Anything that comes out, from a seacock to a bag of rags. */
export interface Item {
	readonly key: string;
	readonly binned: boolean | null;
	readonly name: string | null;
	readonly kind: string | null;
	readonly system: string | null;
	readonly compartment: string | null;
	readonly sat: string | null;
	readonly condition: "sound" | "serviceable" | "worn" | "failed" | "unknown" | null;
	readonly whereabouts: "aboard" | "ashore" | "gone" | null;
	readonly fate: "undecided" | "refit" | "renew" | "sell" | "scrap" | "waste" | null;
	readonly place: string | null;
	readonly container: string | null;
	readonly out_at: string | null;
	readonly fastened: string | null;
	readonly note: string | null;
	readonly count: number | null;
	readonly material: string | null;
	readonly size: string | null;
	readonly length_mm: number | null;
	readonly width_mm: number | null;
	readonly height_mm: number | null;
	readonly thickness_mm: number | null;
	readonly volume_l: number | null;
	readonly capacity_ah: number | null;
	readonly voltage_v: number | null;
	readonly mass_kg: number | null;
	readonly mass_how: "weighed" | "plate" | "calculated" | "guessed" | null;
	readonly hours: number | null;
	readonly leaking: boolean | null;
	readonly drained: boolean | null;
	readonly soaked_in: "mineral oil" | "drying oil" | "solvent" | "fuel" | "water" | "clean" | null;
	readonly flash_point_c: number | null;
	readonly lead: "found" | "not found" | null;
	readonly asbestos: "found" | "not found" | null;
}

/** Where a run, or a port of an item, is joined: to another item or to a named point. */
export interface End {
	readonly key: string;
	readonly binned: boolean | null;
	readonly item: string | null;
	readonly label: string | null;
	readonly to_item: string | null;
	readonly to_point: string | null;
	readonly joined: string | null;
}

/** A photograph of something; the bytes live in the photo store under their SHA-256. */
export interface Photo {
	readonly key: string;
	readonly binned: boolean | null;
	readonly of: string | null;
	readonly sha256: string | null;
	readonly type: "image/jpeg" | "image/png" | "image/webp" | null;
	readonly bytes: number | null;
	readonly width: number | null;
	readonly height: number | null;
	readonly taken_at: string | null;
	readonly caption: string | null;
}

/** A printed label. Its key is its code, so that two phones that use one tag twice meet here. */
export interface Tag {
	readonly key: string;
	readonly binned: boolean | null;
	readonly on: string | null;
}

/** A shelf, crate or rack in the shed. */
export interface Place {
	readonly key: string;
	readonly binned: boolean | null;
	readonly name: string | null;
	readonly sort: "shelf" | "crate" | "rack" | "floor" | "outside" | null;
	readonly within: string | null;
}

/** A drum, can, bin or tray that holds one waste stream. */
export interface Container {
	readonly key: string;
	readonly binned: boolean | null;
	readonly name: string | null;
	readonly stream: string | null;
	readonly place: string | null;
	readonly capacity_l: number | null;
	readonly tare_kg: number | null;
	readonly gross_kg: number | null;
	readonly opened_at: string | null;
	readonly closed_at: string | null;
	readonly handover: string | null;
}

/** Work that is no item. A make-safe job names the system that waits for it. */
export interface Job {
	readonly key: string;
	readonly binned: boolean | null;
	readonly name: string | null;
	readonly task: "make safe" | "scrape" | "grind" | "clean" | "other" | null;
	readonly system: string | null;
	readonly compartment: string | null;
	readonly area_m2: number | null;
	readonly hours: number | null;
	readonly done_at: string | null;
}

/** `first` before `then`: `then` can't come out, or start, until `first` is done. */
export interface Before {
	readonly key: string;
	readonly binned: boolean | null;
	readonly first: string | null;
	readonly then: string | null;
}

/** The day a container or lot left, to whom, against which document. */
export interface Handover {
	readonly key: string;
	readonly binned: boolean | null;
	readonly on: string | null;
	readonly to: string | null;
	readonly document: string | null;
	readonly note: string | null;
}

/** A remark that belongs to something. */
export interface Note {
	readonly key: string;
	readonly binned: boolean | null;
	readonly of: string | null;
	readonly text: string | null;
}

/** Hours that somebody put in. */
export interface Work {
	readonly key: string;
	readonly binned: boolean | null;
	readonly on: string | null;
	readonly hours: number | null;
	readonly people: number | null;
	readonly job: string | null;
	readonly compartment: string | null;
	readonly note: string | null;
}

/** What a renewal costs, as the user was quoted it. */
export interface Price {
	readonly key: string;
	readonly binned: boolean | null;
	readonly spec: string | null;
	readonly amount: number | null;
	readonly currency: string | null;
	readonly per: "each" | "metre" | "reel" | null;
	readonly supplier: string | null;
}

/** What people call a phone; who may write is the server's own table, not this record. */
export interface Device {
	readonly key: string;
	readonly binned: boolean | null;
	readonly name: string | null;
}

export interface Tables {
	boat: Boat;
	compartment: Compartment;
	item: Item;
	end: End;
	photo: Photo;
	tag: Tag;
	place: Place;
	container: Container;
	job: Job;
	before: Before;
	handover: Handover;
	note: Note;
	work: Work;
	price: Price;
	device: Device;
}
export type TableName = keyof Tables;
export type RecordOf<T extends TableName> = Tables[T];

export const SHAPES: Readonly<Record<TableName, Readonly<Record<string, FieldShape>>>> = {
	boat: {
		binned: { is: "yes or no" },
		name: { is: "text", longest: 200 },
		built: { is: "whole", low: 1800, high: 2100, unit: "year" },
		hull: { is: "text", longest: 200 },
		length_m: { is: "number", low: 0, high: 200, unit: "m" },
		beam_m: { is: "number", low: 0, high: 200, unit: "m" },
		draught_m: { is: "number", low: 0, high: 200, unit: "m" },
		rule_set: { is: "text", longest: 200 },
		holder: { is: "choice", of: ["household", "business"] },
		note: { is: "text", longest: 4000 },
	},
	compartment: {
		binned: { is: "yes or no" },
		name: { is: "text", longest: 200 },
		within: { is: "ref", table: "compartment" },
		side: { is: "choice", of: ["port", "centre", "starboard", "across"] },
		level: { is: "choice", of: ["aloft", "deck", "cabin", "under sole"] },
		from_m: { is: "number", low: 0, high: 200, unit: "m" },
		to_m: { is: "number", low: 0, high: 200, unit: "m" },
	},
	item: {
		binned: { is: "yes or no" },
		name: { is: "text", longest: 200 },
		kind: { is: "text", longest: 200 },
		system: { is: "text", longest: 200 },
		compartment: { is: "ref", table: "compartment" },
		sat: { is: "text", longest: 200 },
		condition: { is: "choice", of: ["sound", "serviceable", "worn", "failed", "unknown"] },
		whereabouts: { is: "choice", of: ["aboard", "ashore", "gone"] },
		fate: { is: "choice", of: ["undecided", "refit", "renew", "sell", "scrap", "waste"] },
		place: { is: "ref", table: "place" },
		container: { is: "ref", table: "container" },
		out_at: { is: "moment" },
		fastened: { is: "text", longest: 200 },
		note: { is: "text", longest: 4000 },
		count: { is: "whole", low: 1, high: 100000, unit: "pieces" },
		material: { is: "text", longest: 200 },
		size: { is: "text", longest: 200 },
		length_mm: { is: "number", low: 0, high: 50000, unit: "mm" },
		width_mm: { is: "number", low: 0, high: 50000, unit: "mm" },
		height_mm: { is: "number", low: 0, high: 50000, unit: "mm" },
		thickness_mm: { is: "number", low: 0, high: 50000, unit: "mm" },
		volume_l: { is: "number", low: 0, high: 100000, unit: "L" },
		capacity_ah: { is: "number", low: 0, high: 5000, unit: "Ah" },
		voltage_v: { is: "number", low: 0, high: 1000, unit: "V" },
		mass_kg: { is: "number", low: 0, high: 100000, unit: "kg" },
		mass_how: { is: "choice", of: ["weighed", "plate", "calculated", "guessed"] },
		hours: { is: "number", low: 0, high: 10000, unit: "h" },
		leaking: { is: "yes or no" },
		drained: { is: "yes or no" },
		soaked_in: { is: "choice", of: ["mineral oil", "drying oil", "solvent", "fuel", "water", "clean"] },
		flash_point_c: { is: "number", low: -60, high: 400, unit: "°C" },
		lead: { is: "choice", of: ["found", "not found"] },
		asbestos: { is: "choice", of: ["found", "not found"] },
	},
	end: {
		binned: { is: "yes or no" },
		item: { is: "ref", table: "item" },
		label: { is: "text", longest: 200 },
		to_item: { is: "ref", table: "item" },
		to_point: { is: "text", longest: 200 },
		joined: { is: "text", longest: 200 },
	},
	photo: {
		binned: { is: "yes or no" },
		of: { is: "target", tables: [] },
		sha256: { is: "text", longest: 64, pattern: "^[0-9a-f]{64}$" },
		type: { is: "choice", of: ["image/jpeg", "image/png", "image/webp"] },
		bytes: { is: "whole", low: 1, high: 50000000, unit: "bytes" },
		width: { is: "whole", low: 1, high: 50000, unit: "px" },
		height: { is: "whole", low: 1, high: 50000, unit: "px" },
		taken_at: { is: "moment" },
		caption: { is: "text", longest: 200 },
	},
	tag: {
		binned: { is: "yes or no" },
		on: { is: "target", tables: [] },
	},
	place: {
		binned: { is: "yes or no" },
		name: { is: "text", longest: 200 },
		sort: { is: "choice", of: ["shelf", "crate", "rack", "floor", "outside"] },
		within: { is: "ref", table: "place" },
	},
	container: {
		binned: { is: "yes or no" },
		name: { is: "text", longest: 200 },
		stream: { is: "text", longest: 200 },
		place: { is: "ref", table: "place" },
		capacity_l: { is: "number", low: 0, high: 100000, unit: "L" },
		tare_kg: { is: "number", low: 0, high: 100000, unit: "kg" },
		gross_kg: { is: "number", low: 0, high: 100000, unit: "kg" },
		opened_at: { is: "moment" },
		closed_at: { is: "moment" },
		handover: { is: "ref", table: "handover" },
	},
	job: {
		binned: { is: "yes or no" },
		name: { is: "text", longest: 200 },
		task: { is: "choice", of: ["make safe", "scrape", "grind", "clean", "other"] },
		system: { is: "text", longest: 200 },
		compartment: { is: "ref", table: "compartment" },
		area_m2: { is: "number", low: 0, high: 10000, unit: "m2" },
		hours: { is: "number", low: 0, high: 10000, unit: "h" },
		done_at: { is: "moment" },
	},
	before: {
		binned: { is: "yes or no" },
		first: { is: "target", tables: ["item", "job"] },
		then: { is: "target", tables: ["item", "job"] },
	},
	handover: {
		binned: { is: "yes or no" },
		on: { is: "moment" },
		to: { is: "text", longest: 200 },
		document: { is: "text", longest: 200 },
		note: { is: "text", longest: 4000 },
	},
	note: {
		binned: { is: "yes or no" },
		of: { is: "target", tables: [] },
		text: { is: "text", longest: 4000 },
	},
	work: {
		binned: { is: "yes or no" },
		on: { is: "moment" },
		hours: { is: "number", low: 0, high: 10000, unit: "h" },
		people: { is: "whole", low: 1, high: 50, unit: "people" },
		job: { is: "ref", table: "job" },
		compartment: { is: "ref", table: "compartment" },
		note: { is: "text", longest: 4000 },
	},
	price: {
		binned: { is: "yes or no" },
		spec: { is: "text", longest: 200 },
		amount: { is: "number", low: 0, high: 1000000, unit: "currency units" },
		currency: { is: "text", longest: 3, pattern: "^[A-Z]{3}$" },
		per: { is: "choice", of: ["each", "metre", "reel"] },
		supplier: { is: "text", longest: 200 },
	},
	device: {
		binned: { is: "yes or no" },
		name: { is: "text", longest: 200 },
	},
};

/** Kilograms as low, likely and high (about 95 % lie inside), and how they were got. */
export interface Spread {
	readonly low: number;
	readonly likely: number;
	readonly high: number;
	readonly basis: "weighed" | "plate" | "calculated" | "guessed" | "mixed" | "unknown";
}

/** One item still aboard. It is `ready` when `waits_for` is empty. */
export interface LeftItem {
	readonly key: string;
	readonly name: string;
	readonly kind: string;
	readonly system: string;
	readonly tags: readonly string[];
	readonly ready: boolean;
	readonly waits_for: readonly string[];
	readonly cautions: readonly string[];
}

/** A compartment (key: its record's key) or a system (key: its id), and what is left there. */
export interface LeftGroup {
	readonly key: string;
	readonly name: string;
	readonly path: readonly string[];
	readonly total: number;
	readonly out: number;
	readonly left: number;
	readonly items: readonly LeftItem[];
}

/** Left to take out, twice: by compartment and by system. Counts are pieces, not records. */
export interface LeftList {
	readonly total: number;
	readonly out: number;
	readonly left: number;
	readonly ready: number;
	readonly by_compartment: readonly LeftGroup[];
	readonly by_system: readonly LeftGroup[];
}

/** What only a person can answer; until then `assumed` holds, the cautious answer. */
export interface Question {
	readonly item: string;
	readonly name: string;
	readonly field: string;
	readonly ask: string;
	readonly assumed: string;
}

/** One item of a stream; `reason` says in a sentence why it belongs there. */
export interface WasteItem {
	readonly key: string;
	readonly name: string;
	readonly tags: readonly string[];
	readonly count: number;
	readonly mass: Spread;
	readonly reason: string;
	readonly assumed: boolean;
	readonly container: string | null;
	readonly gone: boolean;
}

/** One stream under one rule set. `code` is as the publication prints it, `*` included. */
export interface WasteStream {
	readonly id: string;
	readonly name: string;
	readonly code: string;
	readonly code_title: string;
	readonly hazardous: boolean;
	readonly why: string;
	readonly transport: string;
	readonly keep_in: string;
	readonly keep_apart: readonly string[];
	readonly cautions: readonly string[];
	readonly call: readonly string[];
	readonly sources: readonly string[];
	readonly from_memory: boolean;
	readonly on_site: Spread;
	readonly gone: Spread;
	readonly items: readonly WasteItem[];
}

/** Waste by stream. `standing` is the statement that goes with every list. */
export interface WasteList {
	readonly rule_set: string;
	readonly rule_set_name: string;
	readonly dated: string;
	readonly holder: string;
	readonly standing: string;
	readonly streams: readonly WasteStream[];
	readonly questions: readonly Question[];
	readonly on_site: Spread;
	readonly gone: Spread;
	readonly weighed_share: number;
}

/** Equal specs merged. Lengths are mm; `order_mm` includes the allowance. None: not a run. */
export interface RenewalLine {
	readonly spec: string;
	readonly kind: string;
	readonly system: string;
	readonly size: string;
	readonly standard: string;
	readonly count: number;
	readonly length_mm: number | null;
	readonly allowance: number;
	readonly order_mm: number | null;
	readonly items: readonly string[];
	readonly tags: readonly string[];
	readonly open_questions: readonly string[];
}

/** Everything whose fate is *renew*, or whose kind is always renewed; grouped by system. */
export interface RenewalList {
	readonly lines: readonly RenewalLine[];
	readonly questions: readonly Question[];
	readonly cautions: readonly string[];
}
