import { h, options } from "preact";
import { describe, expect, it } from "vitest";
import { tied, tiedChildren, tieUnits } from "./tied.ts";

/** Spaces that hold, made visible. */
const seen = (text: unknown): string => String(text).replaceAll("\u00a0", "~");

describe("a figure and what belongs to it", () => {
	it.each([
		["2.5 mm2, 7.9 m", "2.5~mm2, 7.9~m"],
		["Bilge pump hose, 29 mm (1 1/8 in)", "Bilge pump hose, 29~mm (1~1/8~in)"],
		["15 to 16 kg, weighed", "15 to 16~kg, weighed"],
		["between 24 January 2027 and 21 February", "between 24~January 2027 and 21~February"],
		["trunking 40 x 25 mm", "trunking 40~x~25~mm"],
		["AWG 14 or no. 06", "AWG~14 or no.~06"],
		["Must not sag, 3 %", "Must not sag, 3~%"],
	])("stays on one line: %s", (text, held) => {
		expect(seen(tied(text))).toBe(held);
	});

	it.each(["2 pieces", "1 run in all", "5 A-frames", "3 m/s", "Crate 3 lies here"])(
		"leaves what is no unit: %s",
		(text) => {
			expect(tied(text)).toBe(text);
		},
	);

	it("is tied over the seam of two children", () => {
		const made = tiedChildren(["Bears ", "29.1", " A, drops ", 0.2, " V"]);
		expect(seen(made.join(""))).toBe("Bears 29.1~A, drops 0.2~V");
		expect(tiedChildren(["by hand", " A"])).toEqual(["by hand", " A"]);
		expect(seen(tiedChildren(["0 to ", 2, " ", "L", " of it"]).join(""))).toBe("0 to 2~L of it");
		expect(tiedChildren([2, " ", "Ladders"])).toEqual([2, " ", "Ladders"]);
	});

	it("is tied in what an element was given among other children", () => {
		const made = tiedChildren(["Not counted. ", ["less than 2.2 kg. ", h("a", null, "Weigh it")]]);
		expect(seen((made[1] as unknown[])[0])).toBe("less than 2.2~kg. ");
	});

	it("is tied in every element, but not in what shows its text as it is", () => {
		const before = options.vnode;
		tieUnits();
		try {
			expect(seen(h("p", null, "6 mm").props.children)).toBe("6~mm");
			expect(seen((h("p", null, 6, " mm").props.children as unknown[]).join(""))).toBe("6~mm");
			expect(h("option", null, "6 mm").props.children).toBe("6 mm");
		} finally {
			if (before) options.vnode = before;
			else delete options.vnode;
		}
	});
});
