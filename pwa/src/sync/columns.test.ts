import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { type Columns, rowsOf } from "./columns.ts";

const file = new URL("../../../fixtures/contract/snapshot.json", import.meta.url);
const { page, records, versions } = JSON.parse(readFileSync(file, "utf8"));

describe("a page of a snapshot", () => {
	it("becomes the records that the server had", () => {
		expect(rowsOf(page)).toEqual({ records, versions });
	});

	it("lets records that share a version share it in memory too", () => {
		const [first, second] = rowsOf(page).records;
		expect(second?.[3]).toBe(first?.[3]);
	});

	it.each([
		(page: Columns) => ({ ...page, devices: [] }),
		(page: Columns) => ({ ...page, versions: { ...page.versions, changes: "" } }),
		(page: Columns) => ({ ...page, versions: { ...page.versions, ms: [1] } }),
		(page: Columns) => ({ ...page, records: [{ ...page.records[0], versions: [] }] }),
	])("that is not whole is not taken in (%#)", (spoil) => {
		expect(() => rowsOf(spoil(page) as Columns)).toThrow(RangeError);
	});
});
