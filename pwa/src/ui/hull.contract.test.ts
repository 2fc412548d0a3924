import { describe, expect, it } from "vitest";
import vectors from "../../../fixtures/contract/drawing.json" with { type: "json" };
import { type CellPlace, drawHull } from "./hull.ts";

/** Half of the tenth that paths are rounded to. */
const CLOSE = 0.051;

function numbers(path: string): number[] {
	return (path.match(/-?[\d.]+/g) ?? []).map(Number);
}

function expectClose(found: readonly number[], wanted: readonly number[]): void {
	expect(found).toHaveLength(wanted.length);
	const far = found.filter((value, at) => Math.abs(value - (wanted[at] ?? Number.NaN)) > CLOSE);
	expect(far).toEqual([]);
}

describe("the boat drawn on the phone lies where the print has it", () => {
	it.each(vectors.cases)("$name", ({ hull, places, waterline, plan, profile, cells }) => {
		const drawing = drawHull(hull, places as CellPlace[]);
		expect(Math.abs(drawing.waterline - waterline)).toBeLessThan(CLOSE);
		expectClose(numbers(drawing.plan), plan);
		expectClose(numbers(drawing.profile), profile);
		const wanted = cells as unknown as Record<string, number[]>;
		expect(drawing.cells.map(({ key }) => key).sort()).toEqual(Object.keys(wanted).sort());
		for (const { key, path } of drawing.cells) expectClose(numbers(path), wanted[key] ?? []);
	});
});
