import { describe, expect, it } from "vitest";
import { type CellPlace, inLanes } from "./cells.ts";
import { breadthAt, drawHull, drawPlace } from "./hull.ts";

const hull = { lengthM: 10, beamM: 3.2, draughtM: 1.5 };

function place(key: string, part: Partial<CellPlace>): CellPlace {
	return { key, side: "across", level: "cabin", fromM: 2, toM: 4, ...part };
}

describe("the boat drawn", () => {
	it("is pointed at the stem, broadest near the middle, and narrower at the stern", () => {
		expect(breadthAt(0)).toBe(0);
		expect(breadthAt(0.56)).toBeCloseTo(1, 5);
		expect(breadthAt(1)).toBeLessThan(0.7);
	});

	it("puts stations to scale along the length", () => {
		const [cell] = drawHull(hull, [place("a", { fromM: 5, toM: 10 })]).cells;
		expect(cell?.x).toBeCloseTo(180, 0);
		expect(cell?.width).toBeCloseTo(177, 0);
	});

	it("puts port below and starboard above, for the bow is to the left", () => {
		const places = [place("p", { side: "port" }), place("s", { side: "starboard" })];
		const cells = new Map(drawHull(hull, places).cells.map((cell) => [cell.key, cell]));
		expect(cells.get("p")?.y).toBeGreaterThan(cells.get("s")?.y ?? Number.NaN);
	});

	it("puts what is under the sole below what is on deck", () => {
		const places = [place("d", { level: "deck" }), place("u", { level: "under sole" })];
		const cells = new Map(drawHull(hull, places).cells.map((cell) => [cell.key, cell]));
		expect(cells.get("u")?.y).toBeGreaterThan(cells.get("d")?.y ?? Number.NaN);
	});

	it("gives cells that would lie on each other a lane each", () => {
		const laned = inLanes(
			[place("a", { side: "port" }), place("b", { side: "port", fromM: 3 })],
			10,
		);
		expect(laned.map(({ lane, of }) => [lane, of])).toEqual([
			[0, 2],
			[1, 2],
		]);
	});

	it("lets cells that only touch keep the whole breadth", () => {
		const laned = inLanes([place("a", {}), place("b", { fromM: 4, toM: 6 })], 10);
		expect(laned.every(({ of }) => of === 1)).toBe(true);
	});

	it("leaves the middle to what goes across where lockers line the sides", () => {
		const laned = inLanes([place("a", {}), place("b", { side: "port" })], 10);
		expect(laned.find(({ band }) => band.place.key === "a")?.side).toBe("centre");
	});

	it("marks one compartment in both views", () => {
		expect(drawPlace(hull, place("a", {}))).toHaveLength(2);
	});

	it("draws a compartment measured beyond the stern inside the boat", () => {
		const [cell] = drawHull(hull, [place("a", { fromM: 12, toM: 15 })]).cells;
		expect((cell?.x ?? 0) + (cell?.width ?? 0)).toBeLessThanOrEqual(357.1);
	});
});
