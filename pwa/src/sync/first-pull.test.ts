import { IDBObjectStore } from "fake-indexeddb";
import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { FakeServer, json, page } from "../testing/fake-server.ts";
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

const put = IDBObjectStore.prototype.put;
let server: FakeServer;

beforeEach(() => {
	vi.useRealTimers();
	server = new FakeServer();
	connect(server);
});

afterEach(() => {
	IDBObjectStore.prototype.put = put;
});

const names = (app: App): (string | null)[] =>
	[...app.boat.table("item").value.values()].map(({ name }) => name).sort();

/** A boat on the server with `count` items, made by a first phone. */
async function boatOf(count: number): Promise<{ app: App; boat: string }> {
	const { app, boat } = await pairedPhone(server);
	await app.keep(Array.from({ length: count }, (_, at) => itemEdit(at, { name: `item ${at}` })));
	await app.syncNow();
	return { app, boat };
}

describe("the first pull of a boat", () => {
	it("takes the records as they are, and only what comes later as changes", async () => {
		const { boat } = await boatOf(5);
		server.asked.length = 0;
		const phone = newPhone();
		const other = await startApp(phone);
		await other.pair("RIGHT", "Phone B");
		await other.chooseBoat(boat);
		await other.syncNow();
		expect(server.count("GET", /snapshot/)).toBe(1);
		expect(server.count("GET", /since=6&/)).toBeGreaterThan(0);
		expect(server.count("GET", /since=0&/)).toBe(0);
		expect(names(other)).toHaveLength(5);
		expect(names(await startApp(phone))).toEqual(names(other));
	});

	it("goes on after a cut where it was, and misses nothing written meanwhile", async () => {
		const { app, boat } = await boatOf(7);
		server.snapshot_page = 3;
		const phone = newPhone();
		const other = await startApp(phone);
		await other.pair("RIGHT", "Phone B");
		let pages = 0;
		server.before = ({ path }) => {
			if (!path.includes("/snapshot")) return undefined;
			pages += 1;
			if (pages === 2) throw new TypeError("cut");
			return undefined;
		};
		await other.chooseBoat(boat);
		await other.syncNow();
		expect(other.syncState.value.online).toBe("no");
		await app.keep([itemEdit(0, { name: "renamed" }), itemEdit(9, { name: "new" })]);
		await app.syncNow();
		const again = await startApp(phone);
		await again.syncNow();
		expect(again.syncState.value.problem).toBeNull();
		expect(names(again)).toEqual(names(app));
		expect(names(await startApp(phone))).toEqual(names(app));
	});

	it("lets the person work between two pages, and merges it like any edit", async () => {
		const { app, boat } = await boatOf(7);
		await app.keep([itemEdit(5, { note: "from A" })]);
		await app.syncNow();
		server.snapshot_page = 3;
		const other = await startApp(newPhone());
		await other.pair("RIGHT", "Phone B");
		server.before = ({ path }) => (path.includes("after=") ? page() : undefined);
		await other.chooseBoat(boat);
		await other.syncNow();
		await other.keep([itemEdit(5, { condition: "worn" })]);
		server.before = () => undefined;
		await other.syncNow();
		await app.syncNow();
		expect(other.item(itemKey(5))).toMatchObject({
			name: "item 5",
			note: "from A",
			condition: "worn",
		});
		expect(other.item(itemKey(5))).toEqual(app.item(itemKey(5)));
	});

	it("pages through all changes on a server that has no snapshots", async () => {
		server.snapshot_page = null;
		const { app, boat } = await boatOf(5);
		const other = await secondPhone(boat);
		expect(other.syncState.value.problem).toBeNull();
		expect(names(other)).toEqual(names(app));
	});

	it("stores a page together with its place or not at all", async () => {
		const { boat } = await boatOf(5);
		const phone = newPhone();
		const other = await startApp(phone);
		await other.pair("RIGHT", "Phone B");
		IDBObjectStore.prototype.put = function (
			this: IDBObjectStore,
			...given: [unknown, IDBValidKey?]
		) {
			if (String(given[1]).startsWith("cursor/"))
				throw new DOMException("full", "QuotaExceededError");
			return put.apply(this, given);
		} as typeof put;
		await other.chooseBoat(boat);
		await other.syncNow();
		expect(other.syncState.value.problem?.kind).toBe("phone storage");
		IDBObjectStore.prototype.put = put;
		const again = await startApp(phone);
		expect(names(again)).toEqual([]);
		await again.syncNow();
		expect(names(again)).toHaveLength(5);
	});

	it("edits over a snapshot merge into what it brought", async () => {
		const { app, boat } = await boatOf(3);
		const phone = newPhone();
		const other = await startApp(phone);
		await other.pair("RIGHT", "Phone B");
		await other.chooseBoat(boat);
		await other.syncNow();
		await other.keep([itemEdit(1, { condition: "worn" })]);
		await app.keep([itemEdit(1, { name: "renamed" }), itemEdit(2, { binned: true })]);
		await app.syncNow();
		await other.syncNow();
		await app.syncNow();
		expect(other.item(itemKey(1))).toMatchObject({ name: "renamed", condition: "worn" });
		expect(other.item(itemKey(1))).toEqual(app.item(itemKey(1)));
		const again = await startApp(phone);
		expect(names(again)).toEqual(["item 0", "renamed"]);
		expect((await again.binned("item")).map(({ record }) => record.name)).toEqual(["item 2"]);
	});

	it("an answer that is no snapshot changes nothing", async () => {
		const { boat } = await boatOf(3);
		const other = await startApp(newPhone());
		await other.pair("RIGHT", "Phone B");
		server.before = ({ path }) =>
			path.includes("/snapshot")
				? json({ cursor: 4, devices: [], versions: {}, records: [{ table: "item" }] })
				: undefined;
		await other.chooseBoat(boat);
		await other.syncNow();
		expect(other.syncState.value.problem?.kind).toBe("not our server");
		server.before = () => undefined;
		await other.syncNow();
		expect(names(other)).toHaveLength(3);
	});
});
