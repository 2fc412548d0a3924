import { expect, test } from "vitest";
import { handOver, oddAbout, putIn, sortFrom } from "./boxing.ts";
import type { Container, Item } from "./contract.ts";

const NOW = "2026-11-20T10:00:00Z";
const box = { key: "b", name: "Can", place: "p", opened_at: null, closed_at: null } as Container;
const item = { key: "i", fate: "undecided", out_at: null } as Item;
const papers = { on: "2026-11-21", to: "Site", carrier: "", document: "", note: "" };

test("what goes into a container is ashore, where it stands, and waste unless decided", () => {
	const [edit, opened] = putIn(item, box, NOW);
	expect(edit?.set).toEqual({
		container: "b",
		place: "p",
		whereabouts: "ashore",
		out_at: NOW,
		boxed_at: NOW,
		fate: "waste",
	});
	expect(opened).toEqual({ table: "container", key: "b", set: { opened_at: NOW } });
	const scrap = putIn({ ...item, fate: "scrap" }, { ...box, opened_at: NOW }, NOW);
	expect(scrap).toHaveLength(1);
	expect(scrap[0]?.set).not.toHaveProperty("fate");
});

test("the handover comes last, so that the server has all of it when it freezes the list", () => {
	const edits = handOver("h", papers, [box], [item], [{ ...item, key: "loose" }], NOW);
	expect(edits.map(({ table }) => table)).toEqual(["item", "item", "container", "handover"]);
	// Papers that nobody wrote are left out: the history would tell of them as cleared.
	expect(edits.at(-1)?.set).toEqual({ sealed_at: NOW, on: "2026-11-21", to: "Site" });
	expect(edits[1]?.set).toEqual({ whereabouts: "gone" });
});

test("a day before the item came out, a day to come and a missing site are said", () => {
	const early = { ...papers, on: "2026-11-01", to: "" };
	const opened = { ...box, opened_at: "2026-11-02T08:00:00Z" };
	const out = { ...item, out_at: "2026-11-03T08:00:00Z" };
	expect(oddAbout(early, [opened], [out], "2026-11-20")).toHaveLength(3);
	expect(oddAbout({ ...papers, on: "2026-12-01" }, [], [], "2026-11-20")).toHaveLength(1);
	expect(oddAbout(papers, [box], [item], "2026-11-21")).toEqual([]);
});

test("the words of the rules propose a sort of container", () => {
	expect(sortFrom("metal can, tight lid, filled with water")).toBe("can");
	expect(sortFrom("two bags or lidded drum")).toBe("drum");
	expect(sortFrom("stays in the tank")).toBeNull();
});
