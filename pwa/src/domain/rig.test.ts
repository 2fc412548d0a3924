import { describe, expect, it } from "vitest";
import cases from "../../../fixtures/contract/rigs.json" with { type: "json" };
import type { Eye, Item, Lift } from "./contract.ts";
import { refusedRig } from "./rig.ts";

type Row = (typeof cases.rigs)[number];

const named = (prefix: string, [aft, off, up]: readonly (number | null)[]): object => ({
	[`${prefix}aft_m`]: aft ?? null,
	[`${prefix}off_m`]: off ?? null,
	[`${prefix}up_m`]: up ?? null,
});
const liftOf = ({ middle, hook }: Row): Lift =>
	({ measured_from: "sump", ...named("centre_", middle), ...named("hook_", hook) }) as Lift;
const eyesOf = ({ eyes }: Row): Eye[] => eyes.map((eye) => named("", eye) as Eye);
const itemOf = (row: Row): Item => ({ ...cases.item, ...row.item }) as Item;

describe("a lift that can't be rigged so", () => {
	it.each(cases.rigs)("is refused as on the server: $hook, $eyes", (row) => {
		const why = refusedRig(liftOf(row), eyesOf(row), itemOf(row), cases);
		if (row.says === null) expect(why).toBeNull();
		else expect(why).toContain(row.says);
	});
});

describe("a lift that is not all written yet", () => {
	const [sound] = cases.rigs as [Row, ...Row[]];
	it.each([
		["without a height", { hook_up_m: null }],
		["without a middle", { centre_up_m: null }],
	])("is left to the server %s", (_, gap) => {
		const wide = { ...liftOf(sound), hook_up_m: 0.6, ...gap };
		expect(refusedRig(wide, eyesOf(sound), itemOf(sound), cases)).toBeNull();
	});
	it("takes where the item sits for its middle, measured from the boat", () => {
		const boat = { ...liftOf(sound), hook_up_m: 0.6, centre_up_m: null, measured_from: null };
		const item = { ...itemOf(sound), aft_m: 0, off_m: 0, up_m: 0 };
		expect(refusedRig(boat, eyesOf(sound), item, cases)).toContain("0 to 60°");
	});
});
