import { describe, expect, it } from "vitest";
import vectors from "../../../fixtures/contract/threads.json" with { type: "json" };
import type { End, Item } from "./contract.ts";
import type { RenewalRules } from "./renewalRules.ts";
import { misfit, mismatch } from "./threadFit.ts";

const RULES = vectors.rules as unknown as RenewalRules;

describe("two threads that are joined", () => {
	it.each(vectors.pairs.map((pair) => [pair.one, pair.other, pair.say] as const))(
		"%s and %s go together as on the server",
		(one, other, say) => expect(mismatch(one, other, RULES)).toBe(say),
	);

	it("are not judged by the rules of an older server", () => {
		const { thread_fits: _, ...older } = RULES;
		expect(mismatch("G 3/4", "3/4 NPT", older)).toBe("");
	});
});

describe("an end that is screwed to another item", () => {
	const item = (key: string, fields: Partial<Item>) => [key, { key, ...fields } as Item] as const;
	const items = new Map([
		item("cock", { size: "3/4 BSP", thread: null }),
		item("tail", { thread: "3/4 NPT", size: "19 mm" }),
		item("bare", { thread: null, size: "as before" }),
	]);
	const end = (fields: Partial<End>) => ({ item: "tail", to_item: "cock", ...fields }) as End;

	it("goes by its own thread, else by that of its item, on both sides", () => {
		expect(misfit(end({}), items, [], RULES)).toMatch(/^3\/4 NPT on BSP 3\/4: BSP threads have 55/);
		expect(misfit(end({ thread: "R 3/4" }), items, [], RULES)).toBe("");
		const back = end({ item: "cock", to_item: "tail", thread: "3/4 NPT" });
		expect(misfit(end({}), items, [back], RULES)).toBe("");
	});

	it("is not judged where a thread or an item is not known", () => {
		expect(misfit(end({ to_item: "bare" }), items, [], RULES)).toBe("");
		expect(misfit(end({ to_item: "gone" }), items, [], RULES)).toBe("");
		expect(misfit(end({ item: "bare", to_item: "tail" }), items, [], RULES)).toBe("");
	});
});
