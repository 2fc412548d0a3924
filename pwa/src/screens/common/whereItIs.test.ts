import { describe, expect, it } from "vitest";
import { isOnSecondPhone, secondPhoneWords, serverWords } from "./whereItIs.ts";

const NOW = Date.parse("2026-05-04T12:00:00Z");
const BOAT = "boat-1";
const copy = {
	boat: BOAT,
	name: "Anna's phone",
	last_seen: "2026-05-04T11:57:00Z",
	whole: true,
};
const received = { last: 41, completeTo: 41, missing: 0, copies: [copy] };
const counts = { lastSeq: 41, unsentChanges: 0, rejected: [] };

describe("what another phone has", () => {
	it("is everything when it read on past the last edit that was kept here", () => {
		expect(isOnSecondPhone(counts, received, BOAT)).toBe(true);
		expect(secondPhoneWords(counts, received, BOAT, NOW)).toMatch(/^every edit, on Anna's phone, /);
	});

	it("is not everything once one more edit was kept, though the server has that too", () => {
		const later = { ...counts, lastSeq: 42 };
		expect(isOnSecondPhone(later, received, BOAT)).toBe(false);
		expect(secondPhoneWords(later, received, BOAT, NOW)).toMatch(/^not all yet; Anna's phone has/);
	});

	it("is not everything while one waits or was refused, or when the other has read less", () => {
		const refused = { id: "c", boat: BOAT, at: 0, change: {} as never, title: "", detail: "" };
		expect(isOnSecondPhone({ ...counts, unsentChanges: 1 }, received, BOAT)).toBe(false);
		expect(isOnSecondPhone({ ...counts, rejected: [refused] }, received, BOAT)).toBe(false);
		const behind = { ...received, copies: [{ ...copy, whole: false }] };
		expect(isOnSecondPhone(counts, behind, BOAT)).toBe(false);
	});

	it("is nothing of another boat, and unknown before the server said", () => {
		expect(isOnSecondPhone(counts, received, "boat-2")).toBe(false);
		expect(secondPhoneWords(counts, received, "boat-2", NOW)).toMatch(/^no other phone/);
		expect(isOnSecondPhone(counts, null, BOAT)).toBe(false);
		expect(secondPhoneWords(counts, null, BOAT, NOW)).toBe("not heard yet");
	});
});

describe("what the server has", () => {
	it("is told with the number up to which none is missing", () => {
		expect(serverWords(received)).toBe("all edits of this phone, 41 so far");
		expect(serverWords({ ...received, completeTo: 38, missing: 1 })).toBe(
			"every edit up to number 38; of those up to 41 it lacks 1 edit, refused, given up or still here",
		);
		expect(serverWords({ ...received, last: 0, completeTo: 0 })).toBe("no edit of this phone yet");
	});
});
