import { describe, expect, it } from "vitest";
import { editsOf, type Figure, type Typed } from "./edits.ts";
import type { Subject } from "./subject.ts";

const figure = (kg: number | null, why: string | null = null): Figure => ({ kg, why, text: "?" });
const typed = (gross: number | null, tare: Figure): Typed => ({
	gross: figure(gross),
	tare,
	division: null,
});
const drum: Subject = { table: "container", key: "c", name: "Oil drum" };

function ofContainer(values: Typed): Record<string, unknown> | undefined {
	const edit = editsOf(drum, "w", values, [], []).find(({ table }) => table === "container");
	return edit && { ...edit.set };
}

describe("weighing a container", () => {
	it("leaves its own empty mass alone where none was typed", () => {
		expect(ofContainer(typed(40, figure(null)))).toEqual({ gross_kg: 40 });
	});
	it("leaves it alone where what was typed can't be read", () => {
		expect(ofContainer(typed(40, figure(null, "not a mass")))).toEqual({ gross_kg: 40 });
	});
	it("writes the empty mass that was typed, zero too", () => {
		expect(ofContainer(typed(40, figure(3.5)))).toEqual({ gross_kg: 40, tare_kg: 3.5 });
		expect(ofContainer(typed(40, figure(0)))).toEqual({ gross_kg: 40, tare_kg: 0 });
	});
	it("writes nothing on it while the scale shows nothing", () => {
		expect(ofContainer(typed(null, figure(3.5)))).toBeUndefined();
	});
});
