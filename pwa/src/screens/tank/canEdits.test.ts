import { describe, expect, it } from "vitest";
import type { Item } from "../../domain/contract.ts";
import { faults } from "../../domain/shape.ts";
import { canEdits } from "./canEdits.ts";

const tank = { key: "t", compartment: "bilge" } as Item;
const can = { key: "c", name: "Can 1", litres: 19.5, at: "2026-05-04T10:00:00.000Z" };
const diesel = { id: "diesel", name: "Diesel", cautions: [], kinds: ["old-diesel"] };

describe("filling a can", () => {
	it("makes an item that is out and says which tank it is from", () => {
		const [edit] = canEdits(can, tank, diesel);
		expect(edit).toMatchObject({
			table: "item",
			key: "c",
			set: {
				kind: "old-diesel",
				compartment: "bilge",
				drawn_from: "t",
				volume_l: 19.5,
				whereabouts: "ashore",
				out_at: can.at,
				fate: "waste",
			},
		});
	});
	it("throws nothing away of a liquid that is no waste by itself", () => {
		const water = { id: "fresh-water", name: "Fresh water", cautions: [] };
		expect(canEdits(can, tank, water)[0]?.set).toMatchObject({ kind: null, fate: "undecided" });
	});
	it("writes only values that the record can hold", () => {
		for (const edit of canEdits(can, tank, null))
			expect(faults(edit.table, edit.set as Parameters<typeof faults>[1])).toEqual([]);
	});
});
