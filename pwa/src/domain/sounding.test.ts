import { describe, expect, it } from "vitest";
import cases from "../../../fixtures/contract/soundings.json" with { type: "json" };
import type { DipMark, Sounding, Tank } from "./contract.ts";
import type { LiquidForPhone } from "./rules.ts";
import { refusedSizes, refusedSounding } from "./sounding.ts";

const tank = (set: Partial<Tank>): Tank => ({ ends: null, pipe_top_mm: null, ...set }) as Tank;
const BOX = tank({ shape: "box", height_mm: 400 });

describe("a sounding that can't be", () => {
	it("has no level", () => {
		expect(refusedSounding(BOX, {})).toContain("The level is missing");
	});
	it("is above the tank", () => {
		expect(refusedSounding(BOX, { how: "dip", level_mm: 401 })).toContain("0 to 400 mm");
		expect(refusedSounding(BOX, { how: "dip", level_mm: 400 })).toBeNull();
	});
	it("is above a lying cylinder's diameter", () => {
		const round = tank({ shape: "lying cylinder", diameter_mm: 500, length_mm: 900 });
		expect(refusedSounding(round, { how: "sight", level_mm: 600 })).toContain("0 to 500 mm");
	});
	it("is ullage beyond the tank's lowest point", () => {
		const marked = tank({ shape: "box", height_mm: 400, pipe_top_mm: 450 });
		expect(refusedSounding(marked, { how: "ullage", level_mm: 451 })).toContain("50 to 450 mm");
		expect(refusedSounding(marked, { how: "ullage", level_mm: 430 })).toBeNull();
	});
	it("has sludge above the level", () => {
		expect(refusedSounding(BOX, { how: "dip", level_mm: 20, sludge_mm: 30 })).toContain(
			"0 to 20 mm",
		);
	});
});

describe("a sounding that nothing known speaks against", () => {
	it("is left to the server for sizes not measured and a table without lines", () => {
		const dished = tank({
			shape: "standing cylinder",
			ends: "dished",
			length_mm: 500,
			diameter_mm: null,
		});
		expect(refusedSounding(dished, { how: "dip", level_mm: 600 })).toBeNull();
		expect(refusedSounding(tank({ shape: "dip table" }), { level_mm: 9000 })).toBeNull();
		expect(refusedSounding(tank({ shape: "box", height_mm: null }), { level_mm: 9000 })).toBeNull();
	});
});

describe("the server says the same", () => {
	const liquid = { name: "Diesel", cautions: [], ...cases.liquid } as LiquidForPhone;
	const marks = cases.marks.map((mark) => ({ tank: "t", ...mark }) as DipMark);
	it.each(cases.soundings)("of $tank, $read", ({ tank: name, read, says }) => {
		const sizes = cases.tanks[name as keyof typeof cases.tanks] as Partial<Tank>;
		const of = tank({ key: "t", dish_mm: null, ...sizes });
		const why = refusedSounding(of, read as Partial<Sounding>, liquid, marks);
		if (says === null) expect(why).toBeNull();
		else expect(why).toContain(says);
	});
	it.each(cases.sizes)("of the sizes $tank", ({ tank: sizes, says }) => {
		const why = refusedSizes(tank({ dish_mm: null, ...sizes } as Partial<Tank>));
		if (says === null) expect(why).toBeNull();
		else expect(why).toContain(says);
	});
});
