import { describe, expect, it } from "vitest";
import { hoursFault } from "./HoursPart.tsx";

describe("hours put in", () => {
	it.each([
		[4, 2],
		[0.5, 1],
		[24, 50],
	])("%f hours of %d people are kept", (hours, people) => {
		expect(hoursFault(hours, people)).toBeNull();
	});

	it("keeps the hours of today and of a day that was, and refuses a day to come", () => {
		expect(hoursFault(4, 1, "", "2026-11-25")).toBeNull();
		expect(hoursFault(4, 1, "2026-11-25", "2026-11-25")).toBeNull();
		expect(hoursFault(4, 1, "2025-01-01", "2026-11-25")).toBeNull();
		expect(hoursFault(4, 1, "2026-11-26", "2026-11-25")).toMatch(/still to come.*still here/);
	});

	it.each([
		[0, 1],
		[-3, 1],
		[Number.NaN, 1],
		[24.5, 1],
		[4, 0],
		[4, 1.5],
	])("%f hours of %d people are refused, with the reason", (hours, people) => {
		expect(hoursFault(hours, people)).toMatch(/still here/);
	});
});
