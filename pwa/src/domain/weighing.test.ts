import { describe, expect, it } from "vitest";
import vectors from "../../../fixtures/contract/weighing.json" with { type: "json" };
import type { Weighing } from "./contract.ts";
import { lastDivision, netOf, weighingsOf } from "./weighing.ts";

const row = (key: string, on: string | null, division_kg: number | null = null): Weighing => ({
	key,
	binned: null,
	of: "item/a",
	on,
	gross_kg: 1,
	tare_kg: null,
	division_kg,
	note: null,
});

describe("a weighing, as the server judges it", () => {
	it.each(vectors)("weighs or refuses $gross_kg less $tare_kg", ({ net_kg, error, ...reading }) => {
		const found = netOf(reading);
		if (error !== undefined) expect(found).toEqual({ why: error });
		else expect(found).toEqual({ kg: expect.closeTo(net_kg ?? Number.NaN, 9) });
	});

	it("puts the latest first, by the moment and not by the text", () => {
		const all = new Map(
			[
				row("1", "2026-05-01T10:00:00+02:00", 0.5),
				row("2", "2026-05-01T09:30:00+00:00", 0.1),
				row("3", null, 5),
			].map((one) => [one.key, one]),
		);
		expect(weighingsOf(all, "item/a").map(({ key }) => key)).toEqual(["2", "1", "3"]);
		expect(weighingsOf(all, "item/b")).toEqual([]);
		expect(lastDivision(all)).toBe(0.1);
	});
});
