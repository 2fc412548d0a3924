import { describe, expect, it } from "vitest";
import { watcher } from "./scan.ts";

function watched() {
	const codes: string[] = [];
	const others: string[] = [];
	const see = watcher(
		(code) => codes.push(code),
		(why) => others.push(why),
	);
	return { see, codes, others };
}

const TAG = "HTTPS://SHED.LOCAL:8443/T/PFAN94";

describe("watching for tags", () => {
	it("believes a code at its second sighting and tells it once while it stays", () => {
		const { see, codes } = watched();
		see([TAG], 0);
		expect(codes).toEqual([]);
		for (const at of [100, 200, 300]) see([TAG], at);
		expect(codes).toEqual(["PFAN94"]);
	});

	it("tells it again after it was out of sight", () => {
		const { see, codes } = watched();
		for (const at of [0, 100, 3_000, 3_100]) see([TAG], at);
		expect(codes).toEqual(["PFAN94", "PFAN94"]);
	});

	it("counts frames, not symbols: two symbols of one tag in one frame are one sighting", () => {
		const { see, codes } = watched();
		see([TAG, TAG], 0);
		expect(codes).toEqual([]);
	});

	it("says what a code of something else is, and goes on", () => {
		const { see, codes, others } = watched();
		for (const at of [0, 100]) see(["https://example.org/menu", TAG], at);
		expect(codes).toEqual(["PFAN94"]);
		expect(others).toHaveLength(1);
		expect(others[0]).toContain("not from a tag of this shed");
	});
});
