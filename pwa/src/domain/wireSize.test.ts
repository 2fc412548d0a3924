import { describe, expect, it } from "vitest";
import vectors from "../../../fixtures/contract/wiring.json" with { type: "json" };
import type { Wired } from "./wireLoad.ts";
import type { WireRules } from "./wireRules.ts";
import { sizeWire } from "./wireSize.ts";

const RULES = vectors.rules as unknown as WireRules;
const NOTHING: Wired = {
	load_a: null,
	load_w: null,
	voltage_v: null,
	length_mm: null,
	return_mm: null,
	duty: null,
	critical: null,
	hot_space: null,
	ambient_c: null,
	bundled: null,
	insulation_c: null,
	sheathed: null,
	size: null,
	new_size: null,
};

function rounded(value: unknown): unknown {
	if (typeof value === "number") return Number(value.toFixed(6));
	if (Array.isArray(value)) return value.map(rounded);
	if (value !== null && typeof value === "object")
		return Object.fromEntries(Object.entries(value).map(([name, of]) => [name, rounded(of)]));
	return value;
}

describe("sizing a wire on the phone", () => {
	it.each(vectors.cases.map((one, at) => [at, one] as const))(
		"answers as the server does: case %i",
		(_at, { run, sizing }) => {
			const { ac = false, ...fields } = run as Partial<Wired> & { ac?: boolean };
			expect(rounded(sizeWire({ ...NOTHING, ...fields }, ac, RULES))).toEqual(rounded(sizing));
		},
	);

	it("is tried on every kind of answer", () => {
		const all = vectors.cases.map(({ sizing }) => sizing);
		expect(all.some(({ refused }) => refused !== "")).toBe(true);
		expect(all.some(({ asks }) => asks.length === 3)).toBe(true);
		expect(all.some(({ taken }) => taken !== null)).toBe(true);
		expect(all.length).toBeGreaterThan(20);
	});
});
