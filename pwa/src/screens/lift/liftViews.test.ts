import { describe, expect, it } from "vitest";
import type { LiftLine } from "../../domain/contract.ts";
import { SIDE, viewsOf } from "./liftViews.ts";

const reach = (likely: number, by = 0.05) => ({ low: likely - by, likely, high: likely + by });
const leg = (aft_m: number, off_m: number, set: object = {}) => ({
	eye: `${aft_m} ${off_m}`,
	name: "Eye",
	aft_m,
	off_m,
	up_m: 0.5,
	length_m: 1,
	angle_deg: 30,
	tension_kg: 100,
	most_kg: 150,
	rated_kg: 200,
	verdict: "",
	...set,
});
const lift = (set: Partial<LiftLine>): LiftLine =>
	({
		legs: [leg(-0.5, 0), leg(0.5, 0)],
		centre: [reach(0), reach(0), reach(0.1)],
		hook: [0, 0, 1.5],
		...set,
	}) as LiftLine;

describe("a lift drawn", () => {
	it("is not drawn where nothing was reckoned", () => {
		expect(viewsOf(lift({ legs: [], centre: [], hook: [] }))).toBeNull();
	});
	it("has the hook on top, eyes at their sides, the middle between and under it", () => {
		const { side } = viewsOf(lift({})) ?? {};
		const [fore, aft] = side?.strands ?? [];
		expect(side?.hook.y).toBe(0);
		expect(fore?.eye.x).toBeLessThan(side?.hook.x ?? 0);
		expect(aft?.eye.x).toBeGreaterThan(side?.hook.x ?? 0);
		expect(side?.centre.x).toBeCloseTo(side?.hook.x ?? 0);
		expect(side?.centre.y).toBeGreaterThan(fore?.eye.y ?? 0);
		expect(side?.load.foot).toBeGreaterThan(side?.centre.y ?? 0);
	});
	it("fits its square, whatever is longest", () => {
		for (const line of [lift({}), lift({ legs: [leg(-4, 0), leg(4, 0)] })])
			for (const view of Object.values(viewsOf(line) ?? {})) {
				const xs = [view.load.left, view.load.right, ...view.strands.map(({ eye }) => eye.x)];
				expect(Math.min(...xs)).toBeGreaterThanOrEqual(-1e-6);
				expect(Math.max(...xs)).toBeLessThanOrEqual(SIDE + 1e-6);
				expect(view.load.foot).toBeLessThanOrEqual(SIDE + 1e-6);
			}
	});
	it("writes each leg in one view only, and no two labels of a side on each other", () => {
		const four = [leg(-0.5, -0.1), leg(-0.4, 0.1), leg(0.5, -0.1), leg(0.1, 0.6)];
		const views = Object.values(viewsOf(lift({ legs: four })) ?? {});
		const written = views.flatMap(({ strands }) => strands.filter(({ label }) => label !== null));
		expect(written.map(({ number }) => number).sort()).toEqual([1, 2, 3, 4]);
		for (const { strands } of views)
			for (const left of [true, false]) {
				const ys = strands.flatMap(({ label }) => (label?.left === left ? [label.y] : []));
				ys.forEach((y, n) => {
					if (n > 0) expect(y - (ys[n - 1] ?? 0)).toBeGreaterThanOrEqual(30);
				});
			}
	});
	it("marks what is over its rating", () => {
		const over = lift({ legs: [leg(-0.5, 0, { most_kg: 201 }), leg(0.5, 0, { rated_kg: null })] });
		expect(viewsOf(over)?.side.strands.map((strand) => strand.over)).toEqual([true, false]);
	});
});
