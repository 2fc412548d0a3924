import { describe, expect, it } from "vitest";
import { groupedBy } from "./grouped.ts";

const crates = groupedBy(({ place }: { place: string | null }) => place);

describe("records by something they name", () => {
	it("finds those of one name, in the order of the table", () => {
		const rows = [{ place: "b" }, { place: "a" }, { place: null }, { place: "b" }];
		const records = new Map(rows.map((row, at) => [String(at), row]));
		expect(crates(records, "b")).toEqual([rows[0], rows[3]]);
		expect(crates(records, "c")).toEqual([]);
	});

	it("looks again when the table has changed", () => {
		const before = new Map([["1", { place: "a" }]]);
		expect(crates(before, "a")).toHaveLength(1);
		const after = new Map([...before, ["2", { place: "a" }]]);
		expect(crates(after, "a")).toHaveLength(2);
		expect(crates(before, "a")).toHaveLength(1);
	});

	it("reads a table once however often it is asked", () => {
		let read = 0;
		const counted = groupedBy((row: { place: string }) => {
			read += 1;
			return row.place;
		});
		const records = new Map([["1", { place: "a" }]]);
		for (let times = 0; times < 5; times++) counted(records, "a");
		expect(read).toBe(1);
	});
});
