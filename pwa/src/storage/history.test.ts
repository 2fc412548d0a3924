import { beforeEach, describe, expect, it, vi } from "vitest";
import type { Change } from "../domain/change.ts";
import { FakeServer } from "../testing/fake-server.ts";
import {
	type App,
	connect,
	itemEdit,
	itemKey,
	pairedPhone,
	secondPhone,
} from "../testing/phone.ts";

let server: FakeServer;

beforeEach(() => {
	vi.useRealTimers();
	server = new FakeServer();
	connect(server);
});

/** The change of the first item that wrote `field` last. */
async function lastOf(app: App, field: string): Promise<Change> {
	const { entries } = await app.historyOf("item", itemKey(1));
	const found = entries.findLast(({ set }) => field in set);
	if (!found) throw new Error(`nobody wrote ${field}`);
	return found;
}

function noSignal(): void {
	server.before = () => {
		throw new TypeError("no signal");
	};
}

describe("undoing a change", () => {
	it("brings back the values before it, with no signal, and the log keeps both", async () => {
		const { app } = await pairedPhone(server);
		noSignal();
		await app.keep([itemEdit(1, { name: "Seacock", condition: "worn" })]);
		await app.keep([itemEdit(1, { condition: "failed", note: "weeps" })]);
		await app.undoChange(await lastOf(app, "note"));
		expect(app.item(itemKey(1))).toMatchObject({ name: "Seacock", condition: "worn", note: null });
		const { entries, complete } = await app.historyOf("item", itemKey(1));
		expect(complete).toBe(true);
		expect(entries.map(({ set }) => set.condition)).toEqual(["worn", "failed", "worn"]);
	});

	it("leaves alone what somebody has written since", async () => {
		const { app } = await pairedPhone(server);
		await app.keep([itemEdit(1, { name: "Seacock" })]);
		await app.keep([itemEdit(1, { condition: "failed", note: "weeps" })]);
		const change = await lastOf(app, "note");
		await app.keep([itemEdit(1, { note: "tight again" })]);
		const undo = await app.undoChange(change);
		expect(undo.overwritten).toEqual(["note"]);
		expect(app.item(itemKey(1))).toMatchObject({ condition: null, note: "tight again" });
		expect((await app.undoOf(change)).edits).toEqual([]);
	});

	it("can itself be undone", async () => {
		const { app } = await pairedPhone(server);
		await app.keep([itemEdit(1, { condition: "worn" })]);
		await app.keep([itemEdit(1, { condition: "failed" })]);
		await app.undoChange(await lastOf(app, "condition"));
		await app.undoChange(await lastOf(app, "condition"));
		expect(app.item(itemKey(1))?.condition).toBe("failed");
	});

	it("puts a record in the bin when it undoes what made it, and takes it out again", async () => {
		const { app } = await pairedPhone(server);
		await app.keep([itemEdit(1, { name: "Seacock" })]);
		await app.undoChange(await lastOf(app, "name"));
		expect(app.item(itemKey(1))).toBeUndefined();
		expect(await app.binned("item")).toMatchObject([
			{ key: itemKey(1), record: { name: "Seacock" } },
		]);
		await app.undoChange(await lastOf(app, "binned"));
		expect(app.item(itemKey(1))?.name).toBe("Seacock");
	});

	it("takes a tag off rather than throwing it away", async () => {
		const { app } = await pairedPhone(server);
		const code = app.takeNextTag() ?? "";
		await app.keep([{ table: "tag", key: code, set: { on: `item/${itemKey(1)}` } }]);
		const { entries } = await app.historyOf("tag", code);
		await app.undoChange(entries[0] as Change);
		expect(app.boat.table("tag").value.get(code)).toMatchObject({ on: null });
	});
});

describe("a phone that came later", () => {
	async function later(): Promise<App> {
		const { app, boat } = await pairedPhone(server);
		await app.keep([itemEdit(1, { name: "Seacock", condition: "worn" })]);
		await app.keep([itemEdit(1, { condition: "failed" })]);
		await app.syncNow();
		return secondPhone(boat);
	}

	it("asks the server for what was before it, keeps it, and says when it can't", async () => {
		const other = await later();
		noSignal();
		expect(await other.historyOf("item", itemKey(1))).toEqual({ entries: [], complete: false });
		server.before = () => undefined;
		expect((await other.historyOf("item", itemKey(1))).entries).toHaveLength(2);
		noSignal();
		const { entries, complete } = await other.historyOf("item", itemKey(1));
		expect(entries.map(({ set }) => set)).toEqual([
			{ name: "Seacock", condition: "worn" },
			{ condition: "failed" },
		]);
		expect(complete).toBe(true);
	});

	it("undoes a change from before its time", async () => {
		const other = await later();
		await other.undoChange(await lastOf(other, "condition"));
		expect(other.item(itemKey(1))).toMatchObject({ name: "Seacock", condition: "worn" });
	});

	it("undoes its own change to what the snapshot had, with no signal", async () => {
		const other = await later();
		noSignal();
		await other.keep([itemEdit(1, { condition: "sound", note: "mine" })]);
		await other.undoChange(await lastOf(other, "note"));
		expect(other.item(itemKey(1))).toMatchObject({ condition: "failed", note: null });
	});

	it("does not guess a value that only the server knows", async () => {
		const other = await later();
		const of = other.boat.key.value ?? "";
		const undo = await other.undoOf(server.log(of).at(-1) as Change);
		expect(undo).toEqual({ edits: [], overwritten: [], unknown: ["condition"] });
	});
});

describe("the bin", () => {
	it("lists what is in it, the last binned first, and gives it back", async () => {
		const { app } = await pairedPhone(server);
		await app.keep([itemEdit(1, { name: "Seacock" }), itemEdit(2, { name: "Tank" })]);
		await app.keep([itemEdit(1, { binned: true })]);
		await app.keep([itemEdit(2, { binned: true })]);
		const found = await app.binned("item");
		expect(found.map(({ record }) => record.name)).toEqual(["Tank", "Seacock"]);
		expect(found[0]).toMatchObject({ device: app.session.value.device });
		await app.restore("item", itemKey(1));
		expect(app.item(itemKey(1))?.name).toBe("Seacock");
		expect(await app.binned("item")).toHaveLength(1);
	});
});
