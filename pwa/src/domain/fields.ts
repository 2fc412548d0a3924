// Generated from the server's declarations by `python -m shedtally.contract`.
// Edit records.py, lists.py or problem_kinds.py and run it again; a test compares.

import type { TableName } from "./contract.ts";

/** What a field may hold. Numbers lie from `low` to `high` in `unit`, both ends allowed. */
export type FieldShape =
	| {
			readonly is: "number" | "whole";
			readonly low?: number;
			readonly high?: number;
			readonly unit?: string;
	  }
	| { readonly is: "text"; readonly longest: number; readonly pattern?: string }
	| { readonly is: "choice"; readonly of: readonly string[] }
	| { readonly is: "yes or no" }
	| { readonly is: "moment" }
	| { readonly is: "ref"; readonly table: string }
	| { readonly is: "target"; readonly tables: readonly string[] };

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
