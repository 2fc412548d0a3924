import { beforeEach, describe, expect, it, vi } from "vitest";
import { FakeServer } from "../testing/fake-server.ts";
import { connect, itemKey, pairedPhone, startApp } from "../testing/phone.ts";

let server: FakeServer;

beforeEach(() => {
	vi.useRealTimers();
	server = new FakeServer();
	connect(server);
});

describe("what is kept for use with no signal", () => {
	it("hands out each code of the reserve once, and fills it when it runs low", async () => {
		const { app } = await pairedPhone(server);
		expect(app.reserve.value).toHaveLength(48);
		const first = app.takeNextTag();
		const second = app.takeNextTag();
		expect([first, second]).toEqual(["TAG000", "TAG001"]);
		for (let at = 0; at < 30; at++) app.takeNextTag();
		await app.syncNow();
		expect(app.reserve.value.length).toBeGreaterThanOrEqual(24);
	});

	it("counts a code as used when it is kept, and not when it was only taken", async () => {
		const { app, phone } = await pairedPhone(server);
		const used = app.takeNextTag() ?? "";
		const taken = app.takeNextTag() ?? "";
		await app.keep([{ table: "tag", key: used, set: { on: `item/${itemKey(1)}` } }]);
		const again = await startApp(phone);
		const left = await again.readStores(["tag"], (tx) => tx.objectStore("tag").getAllKeys());
		expect(left).not.toContain(used);
		expect(again.reserve.value).not.toContain(used);
		expect(again.reserve.value).toContain(taken);
	});

	it("has the last lists and rules after a start with no signal", async () => {
		const { phone } = await pairedPhone(server);
		server.before = () => {
			throw new TypeError("no signal");
		};
		const again = await startApp(phone);
		expect(again.lists.value.left).toMatchObject({ cursor: 1, madeAt: "2026-05-04T10:00:00Z" });
		expect(again.rules.value?.version).toBe("1");
	});
});
