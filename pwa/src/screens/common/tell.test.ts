import { describe, expect, it } from "vitest";
import type { Change } from "../../domain/change.ts";
import { fieldName, type NamesOf, valueWords } from "./fieldWords.ts";
import { byMoment, tell } from "./tell.ts";

const names: NamesOf = {
	record: (table) =>
		({ compartment: "Below, Saloon", place: "Rack A", item: "Raw water pump" })[table] ?? "",
	kind: () => "seacock",
	system: () => "raw water",
	ruleSet: () => "European list of waste",
	stream: (id) => ({ "lamp-mercury": "fluorescent lamps" })[id] ?? id,
	material: (id) => ({ "steel-mild": "mild steel" })[id] ?? id,
	code: (code) => `${code.slice(0, 3)}-${code.slice(3)}`,
};

let made = 0;

function change(part: Partial<Change>, seconds = 0, device = "a"): Change {
	made += 1;
	const stamp = `${(1_700_000_000_000 + seconds * 1000).toString(16).padStart(12, "0")}0000`;
	return {
		id: `c${made}`,
		device,
		seq: made,
		stamp,
		table: "item",
		key: "i",
		set: {},
		base: 0,
		...part,
	};
}

describe("the history of an item", () => {
	it("says where an item sat, not the key of its compartment", () => {
		expect(tell(change({ set: { compartment: "0190" } }), names)).toEqual(["Sat in Below, Saloon"]);
	});

	it("leaves out the moment of taking out, which stands beside the entry anyway", () => {
		const set = { whereabouts: "ashore", out_at: "2026-05-04T10:00:00Z" };
		expect(tell(change({ set }), names)).toEqual(["Taken out"]);
	});

	it("names kind, stream and material as the screens do, not by what the rules call them", () => {
		const kind = change({ set: { kind: "seacock", material: "steel-mild" } });
		expect(tell(kind, names)).toEqual(["Kind: seacock", "Material: mild steel"]);
		const box = change({ table: "container", set: { stream: "lamp-mercury" } });
		expect(tell(box, names)).toEqual(["Stream: fluorescent lamps"]);
	});

	it("leaves out of a correction the handover on whose screen it is told", () => {
		const set = { handover: "h", mass_kg: 94.6 };
		expect(tell(change({ table: "correction", set }), names)).toEqual(["Mass: 94.6 kg"]);
	});

	it("says of what is put away later only where, not that it was taken out again", () => {
		const set = { place: "p", whereabouts: "ashore" } as const;
		const at = (out_at: string) => tell(change({ set: { ...set, out_at } }), names);
		expect(at("2023-11-14T20:00:00Z")).toEqual(["Put away in Rack A"]);
		expect(at("2023-11-14T22:13:20Z")).toEqual(["Put away in Rack A", "Taken out"]);
	});

	it("names a tag by its printed code", () => {
		const put = change({ table: "tag", key: "K7Q4M2", set: { on: "item/i" } });
		expect(tell(put, names)).toEqual(["Tag K7Q-4M2 put on"]);
	});

	it("gives a value with its unit, and says when one was cleared", () => {
		expect(tell(change({ set: { mass_kg: 12, size: null } }), names)).toEqual([
			"Mass: 12 kg",
			"Size cleared",
		]);
	});

	it("tells what one phone did within a minute as one moment, newest first", () => {
		const out = change({ set: { whereabouts: "ashore" } });
		const photo = change({ table: "photo", set: { of: "item/i" } }, 1);
		const later = change({ set: { condition: "worn" } }, 90);
		const said = byMoment([later, photo, out], names).map(({ told }) =>
			told.flatMap((one) => one.said),
		);
		expect(said).toEqual([["Condition: worn"], ["Taken out", "Photographed"]]);
	});

	it("keeps two phones apart that did something in the same minute", () => {
		const mine = change({ set: { condition: "worn" } });
		const theirs = change({ set: { condition: "failed" } }, 1, "b");
		expect(byMoment([mine, theirs], names)).toHaveLength(2);
	});
});

describe("fields and values in words", () => {
	it("gives a length of the boat in metres and one of an item in millimetres", () => {
		expect(valueWords("boat", "length_m", 11.2, names)).toBe("11.2 m");
		expect(valueWords("item", "length_mm", 640, names)).toBe("640 mm");
	});

	it("names the record that a field points to, whichever table it is in", () => {
		expect(valueWords("compartment", "within", "0190", names)).toBe("Below, Saloon");
		expect(valueWords("tag", "on", "item/0190", names)).toBe("Raw water pump");
	});

	it("calls the same field by what it means in its table", () => {
		expect(fieldName("compartment", "within")).toBe("Lies in");
		expect(fieldName("place", "within")).toBe("Stands in");
	});

	it("shows a value of a newer version as it is, by the field's own name", () => {
		expect(fieldName("item", "paint_code")).toBe("paint code");
		expect(valueWords("item", "paint_code", "B12", names)).toBe("B12");
	});

	it("says that a cleared field holds nothing", () => {
		expect(valueWords("item", "note", null, names)).toBe("nothing");
	});
});
