import { describe, expect, it } from "vitest";
import { numberTyped, unitOf } from "./typed.ts";

describe("a number typed into a field with a unit", () => {
	it.each([
		["Length, m", "m"],
		["Way back, mm, if other", "mm"],
		["Hook rated, kg", null],
		["Volts, AC", null],
		["Load, A", null],
	])("knows the unit of %s", (label, unit) => {
		expect(unitOf(label)).toBe(unit);
	});

	it.each([
		["12,5", "m", 12.5],
		["10 ft", "m", 3.048],
		["3/4 in", "mm", 19.05],
		["1.2 m", "mm", 1200],
		["-0.4", "m", -0.4],
	] as const)("reads %s in %s", (text, unit, value) => {
		expect(numberTyped(text, -10, 5_000, unit)).toEqual({ value });
	});

	it.each([
		["3/4", "mm", "3/4 has no unit; write mm, cm, m, in or ft, or the plain number of mm, "],
		["10 fathoms", "m", "fathoms is no unit I know"],
		["about two", "m", "no number in about two"],
		["30 m", "m", "write a number, -10 to 10 m"],
		["10 ft", null, "write a number, -10 to 10."],
	] as const)("says of %s in a field in %s what to write", (text, unit, words) => {
		expect(numberTyped(text, -10, 10, unit)).toEqual({
			why: expect.stringContaining(words),
		});
	});
});
