import { describe, expect, it } from "vitest";
import type { Clash } from "../../sync/clashes.ts";
import { disputesOf } from "./disputes.ts";

function clash(part: Partial<Clash>): Clash {
	return {
		table: "item",
		key: "i",
		field: "condition",
		kept: { value: "worn", stamp: "0002", device: "b" },
		lost: { value: "sound", stamp: "0001", device: "a" },
		cursor: 1,
		...part,
	};
}

describe("clashes as questions", () => {
	it("asks once about a field that three phones wrote, the standing value first", () => {
		const second = clash({
			kept: { value: "failed", stamp: "0003", device: "c" },
			lost: { value: "worn", stamp: "0002", device: "b" },
		});
		const [only, ...others] = disputesOf([clash({}), second]);
		expect(others).toEqual([]);
		expect(only?.sides.map(({ value }) => value)).toEqual(["failed", "worn", "sound"]);
	});

	it("puts the value first that stands, though it was listed as lost before", () => {
		const late = clash({
			kept: { value: "sound", stamp: "0004", device: "a" },
			lost: { value: "worn", stamp: "0002", device: "b" },
		});
		expect(disputesOf([clash({}), late])[0]?.sides[0]?.value).toBe("sound");
	});

	it("tells a tag on two things, and a record binned and edited, from a plain field", () => {
		const sorts = disputesOf([
			clash({}),
			clash({ table: "tag", key: "K7Q4M2", field: "on" }),
			clash({ field: "binned" }),
		]).map(({ sort }) => sort);
		expect(sorts).toEqual(["field", "tag", "bin"]);
	});
});
