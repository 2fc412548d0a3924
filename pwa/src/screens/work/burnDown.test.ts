import { describe, expect, it } from "vitest";
import { niceStep, topOf } from "./BurnDown.tsx";

describe("the axis of a chart", () => {
	it.each([
		[430, 500],
		[500, 500],
		[20, 20],
		[21, 25],
		[7, 8],
		[1, 1],
		[0.4, 1],
	])("for %d ends at %d", (value, top) => {
		expect(topOf(value)).toBe(top);
	});

	it("has few steps, all of them round", () => {
		expect([niceStep(500, 5), niceStep(20, 2), niceStep(8, 5)]).toEqual([100, 10, 2]);
	});
});
