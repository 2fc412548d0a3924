import { describe, expect, it } from "vitest";
import { PATHS } from "../paths.ts";
import { DESTINATIONS, liesUnder } from "./liesUnder.ts";

/** Every address that the app knows; those with a key stand for all of their kind. */
const ADDRESSES = Object.values(PATHS).map((path) =>
	typeof path === "string" ? path : path("a-key"),
);

describe("the four destinations", () => {
	it.each(ADDRESSES)("%s lies under exactly one", (address) => {
		const [path = ""] = address.split("?");
		expect(DESTINATIONS.filter((one) => liesUnder(path, one))).toHaveLength(1);
	});

	it("find a tag however it was typed", () => {
		expect(DESTINATIONS.find((one) => liesUnder("/T/ABC", one))?.word).toBe("Find");
	});
});
