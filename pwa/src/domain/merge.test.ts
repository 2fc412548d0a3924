import { describe, expect, it } from "vitest";
import vectors from "../../../fixtures/contract/merge.json" with { type: "json" };
import type { Change } from "./change.ts";
import { fold, isBinned } from "./merge.ts";

const cases = vectors.cases.map(({ changes, ...wanted }) => ({
	...wanted,
	changes: changes as unknown as Change[],
}));

/** Numbers from 0 to 1, the same in every run. */
function seeded(seed: number): () => number {
	let state = seed;
	return () => {
		state = (state * 1_103_515_245 + 12_345) % 2_147_483_648;
		return state / 2_147_483_648;
	};
}

function shuffled<T>(list: readonly T[], random: () => number): T[] {
	return list
		.map((value) => ({ value, at: random() }))
		.sort((a, b) => a.at - b.at)
		.map(({ value }) => value);
}

describe("merging, as the server merges", () => {
	it.each(cases)("$name", ({ changes, values, versions, binned }) => {
		const state = fold(changes);
		expect(state).toEqual({ values, versions });
		expect(isBinned(state)).toBe(binned);
	});

	it.each(cases)("in any order and sent twice: $name", ({ changes, values, versions }) => {
		const random = seeded(changes.length + 1);
		for (let round = 0; round < 20; round++) {
			const again = shuffled([...changes, ...changes], random);
			expect(fold(again)).toEqual({ values, versions });
		}
	});

	it("comes to one record for any order of many changes with equal stamps and devices", () => {
		const random = seeded(7);
		const pick = (count: number): number => Math.floor(random() * count);
		const changes = Array.from(
			{ length: 60 },
			(_, at): Change => ({
				id: `id-${String(at).padStart(2, "0")}`,
				device: `device-${pick(3)}`,
				seq: at + 1,
				stamp: pick(6).toString(16).padStart(16, "0"),
				table: "item",
				key: "k",
				set: { [`field${pick(4)}`]: at },
				base: 0,
			}),
		);
		const wanted = fold(changes);
		for (let round = 0; round < 50; round++) {
			expect(fold(shuffled(changes, random))).toEqual(wanted);
		}
	});
});
