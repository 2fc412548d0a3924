import { describe, expect, it } from "vitest";
import { backoffMs } from "./schedule.ts";

describe("waiting after a failure", () => {
	it("grows from two seconds to a minute at most", () => {
		expect([1, 2, 3, 4, 5, 6, 7, 50].map((failed) => backoffMs(failed, () => 1))).toEqual([
			2_000, 4_000, 8_000, 16_000, 32_000, 60_000, 60_000, 60_000,
		]);
	});

	it("is spread over the whole time, but never under a quarter of a second", () => {
		expect(backoffMs(4, () => 0.5)).toBe(8_000);
		expect(backoffMs(4, () => 0)).toBe(250);
	});
});
