import { describe, expect, it } from "vitest";
import type { Edit } from "../../domain/change.ts";
import { read } from "../../domain/read.ts";
import { faults } from "../../domain/shape.ts";
import { type Taken, takeOutEdits, undoEdits } from "./edits.ts";

const picture = {
	sha256: "a".repeat(64),
	type: "image/jpeg",
	bytes: new ArrayBuffer(9),
	thumbnail: new ArrayBuffer(1),
	width: 4,
	height: 3,
};
const at = "2026-05-04T10:00:00.000Z";
const fresh: Taken = { item: "i", photo: "p", code: "K7Q4M2", before: null, at };
const draft = { compartment: "galley", condition: "worn" } as const;

function setOf(edits: Edit[], table: string): Record<string, unknown> {
	return { ...edits.find((edit) => edit.table === table)?.set };
}

describe("taking an item out", () => {
	it("puts item, photograph and tag into one keep", () => {
		const edits = takeOutEdits(fresh, draft, picture);
		expect(edits.map(({ table }) => table)).toEqual(["item", "photo", "tag"]);
		expect(setOf(edits, "item")).toMatchObject({
			whereabouts: "ashore",
			compartment: "galley",
			condition: "worn",
		});
		expect(setOf(edits, "tag").on).toBe("item/i");
	});

	it("writes only values that the record can hold", () => {
		for (const edit of takeOutEdits(fresh, draft, picture))
			expect(faults(edit.table, edit.set as Parameters<typeof faults>[1])).toEqual([]);
	});

	it("leaves the condition unsaid when nobody said it", () => {
		const edits = takeOutEdits(fresh, { ...draft, condition: null }, picture);
		expect(setOf(edits, "item")).not.toHaveProperty("condition");
	});

	it("keeps the compartment that a listed item already has", () => {
		const before = read("item", "i", { compartment: "forepeak" });
		expect(setOf(takeOutEdits({ ...fresh, before }, draft, picture), "item").compartment).toBe(
			"forepeak",
		);
	});

	it("is taken back whole: item and photograph in the bin, the tag free", () => {
		const edits = undoEdits(fresh);
		expect(setOf(edits, "item")).toEqual({ binned: true });
		expect(setOf(edits, "photo")).toEqual({ binned: true });
		expect(setOf(edits, "tag")).toEqual({ on: null });
	});

	it("puts a listed item back aboard, and never into the bin", () => {
		const before = read("item", "i", { whereabouts: "aboard", compartment: "forepeak" });
		const set = setOf(undoEdits({ ...fresh, before }), "item");
		expect(set).toMatchObject({ whereabouts: "aboard", out_at: null, compartment: "forepeak" });
		expect(set).not.toHaveProperty("binned");
	});
});
