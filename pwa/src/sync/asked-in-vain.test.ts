import { expect, it } from "vitest";
import { askedInVain, describe } from "./problem.ts";

it("promises of what was asked with no signal not that it is sent later", () => {
	const said = askedInVain(describe("unreachable"));
	expect(said).toContain("Try again where there is a signal.");
	expect(said).not.toContain("sent by itself");
});

it("says of any other trouble what to do about that", () => {
	expect(askedInVain(describe("server full"))).toContain("Free space on the server");
});
