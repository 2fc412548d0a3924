import { describe, expect, it } from "vitest";
import type { KindForPhone } from "./rules.ts";
import { kindsFor, matches } from "./search.ts";

function kind(id: string, name: string, words: string[] = []): KindForPhone {
	const rest = { system: "fuel", usual_in: [], default_fate: null, is_run: false, make_safe: [] };
	return { id, name, words, ...rest, cautions: [], prompts: [], material: null };
}

describe("finding by words", () => {
	it("finds by beginnings of words, in any order, whatever the case", () => {
		expect(matches("GAL sea", "Seacock, galley")).toBe(true);
		expect(matches("cock", "Seacock, galley")).toBe(false);
	});

	it("finds nothing for nothing", () => {
		expect(matches("  ", "Seacock")).toBe(false);
	});

	it("reads letters with and without accents as the same", () => {
		expect(matches("cafe", "Café table")).toBe(true);
	});

	it("offers kinds by name before kinds by another word for them", () => {
		const kinds = [kind("hose", "Fuel hose", ["pipe"]), kind("pipe", "Pipe, copper")];
		expect(kindsFor(kinds, "pipe", 5).map(({ id }) => id)).toEqual(["pipe", "hose"]);
	});

	it("offers no more than asked for", () => {
		const kinds = [kind("a", "Pump, raw water"), kind("b", "Pump, bilge")];
		expect(kindsFor(kinds, "pump", 1)).toHaveLength(1);
	});
});
