import { describe, expect, it } from "vitest";
import vectors from "../../../fixtures/contract/stamp.json" with { type: "json" };
import { MAX_AHEAD_MS, millisecondsOf, nextStamp, stampOf, witness } from "./stamp.ts";

describe("stamps, as the server makes them", () => {
	it.each(vectors.make)("makes $stamp", ({ ms, counter, stamp }) => {
		expect(stampOf(ms, counter)).toBe(stamp);
		expect(millisecondsOf(stamp)).toBe(ms);
	});

	it.each(vectors.is_stamp)("knows whether $text is one", ({ text, is }) => {
		if (is) expect(millisecondsOf(text)).toBeGreaterThanOrEqual(0);
		else expect(() => millisecondsOf(text)).toThrow(RangeError);
	});

	it.each(vectors.following)("goes on: $why", ({ seen, now_ms, next }) => {
		expect(nextStamp(seen, now_ms)).toBe(next);
	});

	it.each(vectors.too_far_ahead)("believes or not: $why", ({ stamp, now_ms, is }) => {
		expect(witness("0".repeat(16), stamp, now_ms)).toBe(is ? "0".repeat(16) : stamp);
	});

	it("compares as text in the order of time", () => {
		expect([...vectors.ascending].sort()).toEqual(vectors.ascending);
	});

	it("never lets what was seen pull the clock back", () => {
		const last = stampOf(1_000_000);
		expect(witness(last, stampOf(999_999), 1_000_000)).toBe(last);
		expect(witness(last, stampOf(1_000_000 + MAX_AHEAD_MS), 1_000_000)).not.toBe(last);
	});
});
