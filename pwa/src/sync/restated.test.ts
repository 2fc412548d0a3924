import { beforeEach, describe, expect, it, vi } from "vitest";
import { restated } from "../domain/restate.ts";
import { FakeServer } from "../testing/fake-server.ts";
import {
	type App,
	connect,
	itemEdit,
	itemKey,
	newPhone,
	pairedPhone,
	secondPhone,
	startApp,
} from "../testing/phone.ts";

let server: FakeServer;

beforeEach(() => {
	vi.useRealTimers();
	server = new FakeServer();
	connect(server);
});

/** The server's disk is lost; what was in it comes from an empty backup. */
function restore(epoch: string): void {
	server.epoch = epoch;
	server.boats.clear();
}

/** A phone that knows an item by a snapshot only, whose author is gone. */
async function onlyBySnapshot(): Promise<{ app: App; boat: string; author: string }> {
	const { app, boat } = await pairedPhone(server);
	await app.keep([itemEdit(1, { name: "Seacock", condition: "worn" })]);
	await app.keep([itemEdit(1, { condition: "failed" })]);
	await app.syncNow();
	return { app: await secondPhone(boat), boat, author: app.session.value.device };
}

describe("what a phone knows by a snapshot only", () => {
	it("is restated to a restored server under its author, the boat first", async () => {
		const { app, boat, author } = await onlyBySnapshot();
		restore("epoch-2");
		await app.syncNow();
		const log = server.log(boat);
		expect(log.map(({ table, device, set }) => [table, device, set])).toEqual([
			["boat", author, { name: "Corncrake" }],
			["item", author, { condition: "failed" }],
			["item", author, { name: "Seacock" }],
		]);
		expect(log.every(({ restates, seq }) => restates !== undefined && seq < 0)).toBe(true);
		expect(app.item(itemKey(1))).toMatchObject({ name: "Seacock", condition: "failed" });
		expect(app.syncState.value.problem).toBeNull();
	});

	it("is shown by a third phone as by this one, and its history says what it is", async () => {
		const { app, boat } = await onlyBySnapshot();
		restore("epoch-2");
		await app.syncNow();
		const third = await startApp(newPhone());
		await third.pair("RIGHT", "Phone C");
		await third.chooseBoat(boat);
		await third.syncNow();
		expect(third.item(itemKey(1))).toMatchObject({ name: "Seacock", condition: "failed" });
		const { entries, complete } = await third.historyOf("item", itemKey(1));
		expect(complete).toBe(true);
		expect(entries.map(({ restates }) => typeof restates)).toEqual(["string", "string"]);
	});

	it("is restated once, by whomever, and passed on after the next restored backup", async () => {
		const { app, boat } = await onlyBySnapshot();
		const other = await secondPhone(boat);
		restore("epoch-2");
		await app.syncNow();
		const first = server.log(boat).map(({ id }) => id);
		await other.syncNow();
		await app.syncNow();
		expect(server.log(boat).map(({ id }) => id)).toEqual(first);
		restore("epoch-3");
		await other.syncNow();
		await app.syncNow();
		expect(
			server
				.log(boat)
				.map(({ id }) => id)
				.sort(),
		).toEqual([...first].sort());
		expect(app.syncState.value).toMatchObject({ problem: null, unsentChanges: 0 });
	});

	it("does not keep back this phone's own edits where the backup is older than the boat", async () => {
		const { app, boat } = await onlyBySnapshot();
		await app.keep([itemEdit(2, { name: "Pump" })]);
		await app.syncNow();
		restore("epoch-2");
		await app.syncNow();
		expect(app.syncState.value).toMatchObject({ problem: null, unsentChanges: 0 });
		expect(server.log(boat).map(({ table, restates }) => [table, restates !== undefined])).toEqual([
			["boat", true],
			["item", true],
			["item", true],
			["item", false],
		]);
	});

	it("is not queued by its author, who has the whole", async () => {
		const { app, boat } = await pairedPhone(server);
		await app.keep([itemEdit(1, { name: "Seacock" })]);
		await app.syncNow();
		const other = await secondPhone(boat);
		restore("epoch-2");
		await other.syncNow();
		await app.syncNow();
		expect(server.log(boat)).toHaveLength(4);
		restore("epoch-3");
		await app.syncNow();
		expect(app.syncState.value).toMatchObject({ problem: null, unsentChanges: 0 });
		// Beside the whole, what others restated of it is not kept again.
		expect(server.log(boat).map(({ restates }) => restates)).toEqual([undefined, undefined]);
	});

	it("goes on where the line was lost", async () => {
		const { app, boat } = await onlyBySnapshot();
		restore("epoch-2");
		server.before = ({ method }) => {
			if (method === "POST") throw new TypeError("no signal");
			return undefined;
		};
		await app.syncNow();
		expect(server.boats.size).toBe(0);
		server.before = () => undefined;
		await app.syncNow();
		expect(server.log(boat)).toHaveLength(3);
	});

	it("is no error to a server that knows no restating", async () => {
		const { app, boat } = await onlyBySnapshot();
		restore("epoch-2");
		server.refuse = ({ seq }) => (seq < 0 ? "must lie from 1 to 2^53 - 1" : "");
		await app.syncNow();
		expect(app.syncState.value.problem).toBeNull();
		expect(app.syncState.value.rejected).toEqual([]);
		expect(server.log(boat)).toHaveLength(0);
		expect(app.item(itemKey(1))).toMatchObject({ name: "Seacock" });
	});

	it("is in the rescue file", async () => {
		const { app, boat } = await onlyBySnapshot();
		const text = await (await app.rescueFile()).text();
		const { changes } = JSON.parse(text.slice(text.indexOf("{"), text.lastIndexOf("}") + 1));
		expect(changes.map((one: { boat: string; table: string }) => [one.boat, one.table])).toEqual([
			[boat, "boat"],
			[boat, "item"],
			[boat, "item"],
		]);
	});
});

describe("a server whose backup is older than the boat", () => {
	it("gets the boat from a phone that has it as a change of somebody else", async () => {
		const { app } = await pairedPhone(server);
		const other = await secondPhone("");
		const second = await app.createBoat({ name: "Dunlin" });
		await app.syncNow();
		server.snapshot_page = null;
		await other.chooseBoat(second);
		await other.syncNow();
		await other.keep([itemEdit(1, { name: "Pump" })]);
		await other.syncNow();
		restore("epoch-2");
		await other.syncNow();
		expect(other.syncState.value).toMatchObject({ problem: null, unsentChanges: 0 });
		expect(server.log(second).map(({ table }) => table)).toEqual(["boat", "item"]);
	});

	it("says so where no phone knows more of the boat than its key", async () => {
		const { app } = await onlyBySnapshot();
		const other = await secondPhone("0190bbbb-0000-7000-8000-000000000000");
		await other.keep([itemEdit(1, { name: "Pump" })]);
		await other.syncNow();
		expect(other.syncState.value.unsentChanges).toBe(1);
		expect(other.syncState.value.problem).not.toBeNull();
		expect(app.syncState.value.problem).toBeNull();
	});
});

describe("restating a record", () => {
	const record = {
		table: "item",
		key: "i",
		values: { name: "pump", count: 2, note: null },
		versions: {
			note: ["0000000000640000", "a", "x"],
			name: ["0000000000640000", "a", "x"],
			count: ["0000000000650000", "b", "y"],
		},
	} as const;

	it("makes one change for each version, the same on every phone", () => {
		const changes = restated(record);
		expect(changes.map(({ restates, set }) => [restates, set])).toEqual([
			["y", { count: 2 }],
			["x", { name: "pump", note: null }],
		]);
		const { name, count, note } = record.versions;
		expect(restated({ ...record, versions: { count, name, note } })).toEqual(changes);
	});

	it("gives each a UUID of version 8 and a number below zero", () => {
		for (const { id, seq } of restated(record)) {
			expect(id).toMatch(/^[0-9a-f]{8}-[0-9a-f]{4}-8[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/);
			expect(Number.isSafeInteger(seq) && seq < 0).toBe(true);
		}
	});
});
