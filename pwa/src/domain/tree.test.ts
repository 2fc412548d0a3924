import { describe, expect, it } from "vitest";
import { flatten, isUnder, type Node, pathOf, ringsWithin, withinFault } from "./tree.ts";

function nodes(...rows: [key: string, within: string | null][]): Map<string, Node> {
	return new Map(rows.map(([key, within]) => [key, { key, within, name: key.toUpperCase() }]));
}

const galley = nodes(["boat", null], ["cabin", "boat"], ["galley", "cabin"], ["deck", "boat"]);
const ring = nodes(["a", "b"], ["b", "a"], ["c", "a"]);

describe("a tree of compartments", () => {
	it("gives the path from the outermost inwards", () => {
		expect(pathOf(galley, "galley")).toEqual(["BOAT", "CABIN", "GALLEY"]);
	});

	it("gives no path for a compartment that has not arrived", () => {
		expect(pathOf(galley, "elsewhere")).toEqual([]);
	});

	it("names each ring once, and what only hangs on one not at all", () => {
		expect(ringsWithin(galley)).toEqual([]);
		const keys = ringsWithin(ring).map((nodes) => nodes.map(({ key }) => key));
		expect(keys).toEqual([["a", "b"]]);
		expect(ringsWithin(nodes(["a", "a"]))).toHaveLength(1);
	});

	it("knows what lies under what, itself included", () => {
		expect(isUnder(galley, "galley", "boat")).toBe(true);
		expect(isUnder(galley, "galley", "galley")).toBe(true);
		expect(isUnder(galley, "deck", "cabin")).toBe(false);
	});

	it("refuses in words what would lie under its own child, or in itself", () => {
		expect(withinFault(galley, "boat", "galley")).toBe(
			"BOAT can't lie in GALLEY, which lies in it. It stays where it was.",
		);
		expect(withinFault(galley, "cabin", "galley")).toContain("can't lie in GALLEY");
		expect(withinFault(galley, "cabin", "cabin")).toContain("can't lie in itself");
		expect(withinFault(galley, "galley", "deck")).toBeNull();
		expect(withinFault(galley, "cabin", null)).toBeNull();
		expect(withinFault(ring, "a", "b")).toContain("A can't lie in B");
	});

	it("lists each after the one it lies in", () => {
		expect(flatten(galley).map(({ node, depth }) => [node.key, depth])).toEqual([
			["boat", 0],
			["cabin", 1],
			["galley", 2],
			["deck", 1],
		]);
	});

	it("ends where two phones made a ring, and loses none of its members", () => {
		expect(pathOf(ring, "c")).toEqual(["B", "A", "C"]);
		expect(
			flatten(ring)
				.map(({ node }) => node.key)
				.sort(),
		).toEqual(["a", "b", "c"]);
	});
});
