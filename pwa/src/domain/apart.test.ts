import { describe, expect, it, test } from "vitest";
import vectors from "../../../fixtures/contract/apart.json" with { type: "json" };
import { mayShare, stoppedBy } from "./apart.ts";
import type { Item } from "./contract.ts";
import type { KindForPhone, RulesForPhone } from "./rules.ts";
import { streamOf, streamsToMix } from "./stream.ts";

const RULES = { ...vectors, contradictions: [] } as unknown as RulesForPhone;
const KINDS: Readonly<Record<string, string>> = vectors.kinds;
const IDS = vectors.streams.map(({ id }) => id);

function item(values: object): Item {
	return { key: "k", soaked_in: null, flash_point_c: null, ...values } as unknown as Item;
}

function kind(id: string): KindForPhone {
	return { id, waste: KINDS[id] } as unknown as KindForPhone;
}

test("an item is of the stream that the server says", () => {
	for (const [id, said, ruleSet, stream] of vectors.cases as [string, object, string, string][])
		expect(
			[id, said, streamOf(item(said), kind(id), RULES, ruleSet)],
			`${id} ${JSON.stringify(said)}`,
		).toEqual([id, said, stream]);
});

test("two streams share a container where the server says so", () => {
	vectors.pairs.forEach((row, at) => {
		const signs = IDS.map((other) => {
			const ban = mayShare(RULES, "eu", IDS[at] ?? "", other);
			return ban === null ? "." : ban.only_if ? "o" : "x";
		});
		expect(signs.join(""), IDS[at]).toBe(row);
	});
});

describe("what may join a container", () => {
	it("is stopped by the container's own stream, and by what lies in it", () => {
		expect(stoppedBy(RULES, "eu", ["rag-drying"], "rag-oil", [])?.beside).toBe("rag-oil");
		expect(stoppedBy(RULES, "eu", ["rag-oil"], "rag-oil", ["rag-drying"])?.beside).toBe(
			"rag-drying",
		);
		expect(stoppedBy(RULES, "eu", ["rag-oil"], "rag-oil", ["rag-oil"])).toBeNull();
	});

	it("is stopped as a second damaged lithium battery, not as the first", () => {
		const [own, none] = ["lithium-damaged", [] as string[]];
		expect(stoppedBy(RULES, "eu", [own], own, none)).toBeNull();
		expect(stoppedBy(RULES, "eu", [own], own, [own])).not.toBeNull();
	});

	it("names a ban that nothing lifts before one that something does", () => {
		const found = stoppedBy(RULES, "eu", ["timber-treated"], "timber", ["rag-drying"]);
		expect(found?.ban.only_if).toBe("");
		expect(stoppedBy(RULES, "eu", ["timber-treated"], "timber", [])?.ban.only_if).not.toBe("");
	});

	it("counts as all that it may be where its answers contradict each other", () => {
		const odd = {
			...RULES,
			contradictions: [
				{
					field: "drained",
					streams: [],
					say: "",
					do: "",
					assumed: "",
					when: [{ field: "drained", values: [true], below: null, at_least: null }],
				},
			],
		} as unknown as RulesForPhone;
		const filter = { id: "f", waste: "filter-oil" } as unknown as KindForPhone;
		const sure = streamsToMix(item({ drained: true }), filter, RULES, "eu");
		const doubted = streamsToMix(item({ drained: true }), filter, odd, "eu");
		expect(sure).toHaveLength(1);
		expect(doubted.length).toBeGreaterThan(1);
	});
});
