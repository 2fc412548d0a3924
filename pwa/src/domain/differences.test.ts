import { expect, it } from "vitest";
import { differences, madeFrom } from "./differences.ts";

const ONE = new Map([
	["a", { n: 1 }],
	["b", { n: 2 }],
	["c", { n: 3 }],
]);

function changed(): Map<string, { n: number }> {
	const now = new Map(ONE);
	now.delete("a");
	return now.set("b", { n: 4 }).set("d", { n: 5 });
}

const WANTED = [
	{ key: "a", was: { n: 1 }, now: null },
	{ key: "b", was: { n: 2 }, now: { n: 4 } },
	{ key: "d", was: null, now: { n: 5 } },
];

it("finds what came, went and changed, whether or not anybody said so", () => {
	expect(differences(ONE, ONE)).toEqual([]);
	expect(differences(ONE, changed())).toEqual(WANTED);
	const now = changed();
	madeFrom(now, ONE, ["b", "a", "d"]);
	expect(differences(ONE, now).sort((x, y) => (x.key < y.key ? -1 : 1))).toEqual(WANTED);
});

it("follows what was said over many changes, and compares all where there were too many", () => {
	for (const times of [3, 500]) {
		let now = new Map(ONE);
		for (let n = 0; n < times; n++) {
			const next = new Map(now).set("b", { n });
			madeFrom(next, now, ["b"]);
			now = next;
		}
		expect(differences(ONE, now)).toEqual([{ key: "b", was: { n: 2 }, now: { n: times - 1 } }]);
	}
});

it("looks at nothing but what was said to have changed", () => {
	const now = changed();
	madeFrom(now, ONE, ["b"]);
	expect(differences(ONE, now)).toEqual([{ key: "b", was: { n: 2 }, now: { n: 4 } }]);
});
