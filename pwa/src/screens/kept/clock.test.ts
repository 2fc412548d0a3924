import { describe, expect, it } from "vitest";
import { clockWords } from "./clock.ts";

const MINUTE_MS = 60_000;

describe("a phone's clock", () => {
	it("agrees with the server's within the five minutes that are believed", () => {
		expect([0, 5 * MINUTE_MS, -5 * MINUTE_MS].map(clockWords)).toEqual([null, null, null]);
	});

	it("is said to be wrong by how much, and in which direction", () => {
		expect(clockWords(-7 * MINUTE_MS)).toBe("7 min fast");
		expect(clockWords(3 * 60 * MINUTE_MS)).toBe("3 h slow");
		expect(clockWords(-3_650 * 1_440 * MINUTE_MS)).toBe("3650 days fast");
	});
});
