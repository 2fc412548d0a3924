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
