import { describe, expect, it } from "vitest";
import type { SyncState } from "../../sync/state.ts";
import { describeStanding } from "./standing.ts";

const calm: SyncState = {
	online: "yes",
	unsentChanges: 0,
	unsentPhotos: 0,
	unsentBytes: 0,
	oldestUnsentAt: null,
	lastSyncedAt: 1,
	running: false,
	problem: null,
	rejected: [],
	lastSeq: 0,
	clockOffsetMs: 0,
	photoBytesSent: 0,
	photoBytesTotal: 0,
	pausedForMetered: false,
	persisted: null,
};

describe("the line that says how safe the work is", () => {
	it("says offline, and what is kept here only", () => {
		const state = { ...calm, online: "no", unsentPhotos: 12 } as const;
		expect(describeStanding(state, true)).toEqual({
			words: "Offline. 12 photos kept here only",
			safe: "no",
		});
	});

	it("says that all is on the server only after everything was sent once", () => {
		expect(describeStanding(calm, true).safe).toBe("yes");
		expect(describeStanding({ ...calm, lastSyncedAt: null }, true).safe).toBe("unknown");
	});

	it("says that another phone has all of it only where nothing waits", () => {
		const words = "All on the server and a second phone";
		expect(describeStanding(calm, true, true, true)).toEqual({ words, safe: "yes" });
		const waits = { ...calm, unsentChanges: 1 };
		expect(describeStanding(waits, true, true, true).words).toBe("1 edit kept here only");
	});

	it("does not call waiting work safe while it is being sent", () => {
		expect(describeStanding({ ...calm, running: true, unsentChanges: 1 }, true)).toEqual({
			words: "1 edit being sent",
			safe: "no",
		});
	});

	it("puts a refusal before everything else", () => {
		const rejected = [{}] as unknown as SyncState["rejected"];
		expect(describeStanding({ ...calm, rejected }, true).words).toBe(
			"1 edit refused by the server",
		);
	});

	it("says that an unpaired phone keeps its work to itself", () => {
		expect(describeStanding({ ...calm, unsentChanges: 2 }, false).safe).toBe("no");
	});

	it("asks a phone that was shut out to pair again, and says what it alone has", () => {
		expect(describeStanding({ ...calm, unsentPhotos: 1 }, false, true)).toEqual({
			words: "Pair again. 1 photo kept here only",
			safe: "no",
		});
		expect(describeStanding(calm, false, true).words).toBe("Pair again");
	});
});
