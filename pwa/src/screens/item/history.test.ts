import { describe, expect, it } from "vitest";
import type { Change } from "../../domain/change.ts";
import { byMoment, type NamesOf, tell } from "./history.ts";

const names: NamesOf = {
	compartment: () => "Below, Saloon",
	place: () => "Rack A",
	item: () => "Raw water pump",
	kind: () => "seacock",
	system: () => "raw water",
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
		expect(byMoment([later, photo, out], names).map(({ said }) => said)).toEqual([
			["Condition: worn"],
			["Taken out", "Photographed"],
		]);
	});

	it("keeps two phones apart that did something in the same minute", () => {
		const mine = change({ set: { condition: "worn" } });
		const theirs = change({ set: { condition: "failed" } }, 1, "b");
		expect(byMoment([mine, theirs], names)).toHaveLength(2);
	});
});
