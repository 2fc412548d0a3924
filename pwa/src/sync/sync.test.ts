import { beforeEach, describe, expect, it, vi } from "vitest";
import { FakeServer, problem } from "../testing/fake-server.ts";
import {
	type App,
	connect,
	itemEdit,
	itemKey,
	pairedPhone,
	photoOf,
	secondPhone,
	startApp,
} from "../testing/phone.ts";

let server: FakeServer;

beforeEach(() => {
	vi.useRealTimers();
	server = new FakeServer();
	connect(server);
});

const kindOf = (app: App): string | undefined => app.syncState.value.problem?.kind;

describe("sending and receiving", () => {
	it("brings an item and its photograph to another phone, byte for byte", async () => {
		const { app, boat } = await pairedPhone(server);
		await app.keep([itemEdit(1, { name: "Seacock" })], [photoOf("one")]);
		await app.syncNow();
		expect(app.syncState.value).toMatchObject({ unsentChanges: 0, unsentPhotos: 0, problem: null });
		expect(server.photos.get(photoOf("one").sha256)).toEqual(photoOf("one").bytes);
		const other = await secondPhone(boat);
		expect(other.item(itemKey(1))?.name).toBe("Seacock");
	});

	it("sends again what was sent when the answer was lost, and nothing arrives twice", async () => {
		const { app, boat } = await pairedPhone(server);
		await app.keep([itemEdit(1, { name: "Seacock" })]);
		server.after = ({ method, path }) => {
			if (method === "POST" && path.endsWith("/changes")) throw new TypeError("connection reset");
		};
		await app.syncNow();
		expect(app.syncState.value).toMatchObject({ unsentChanges: 1, online: "no" });
		server.after = () => {};
		await app.syncNow();
		expect(app.syncState.value.unsentChanges).toBe(0);
		expect(server.log(boat).map(({ table }) => table)).toEqual(["boat", "item"]);
	});

	it("sends what was kept before the app was killed", async () => {
		const { app, phone, boat } = await pairedPhone(server);
		server.before = () => {
			throw new TypeError("no signal");
		};
		await app.keep([itemEdit(1, { name: "Seacock" })], [photoOf("one")]);
		await app.syncNow();
		server.before = () => undefined;
		const again = await startApp(phone);
		await again.syncNow();
		expect(server.log(boat)).toHaveLength(2);
		expect(server.photos.size).toBe(1);
		expect(again.syncState.value).toMatchObject({ unsentChanges: 0, unsentPhotos: 0 });
	});

	it("sends in batches that grow on a quick line and receives in pages", async () => {
		const { app, boat } = await pairedPhone(server);
		const edits = Array.from({ length: 1_100 }, (_, at) => itemEdit(at, { name: `item ${at}` }));
		await app.keep(edits);
		await app.syncNow();
		expect(server.log(boat)).toHaveLength(1_101);
		const batches = server.asked.filter(
			({ method, path }) => method === "POST" && /changes$/.test(path),
		);
		const sizes = batches.map(({ body }) => (body as { changes: unknown[] }).changes.length);
		expect(sizes).toEqual([1, 500, 600]);
		const other = await secondPhone(boat);
		expect(other.boat.table("item").value.size).toBe(1_100);
	});

	it("removes only what the answer names", async () => {
		const { app, boat } = await pairedPhone(server);
		await app.keep([itemEdit(1, { name: "one" }), itemEdit(2, { name: "two" })]);
		let asked = 0;
		server.before = ({ method, path, body }) => {
			if (method !== "POST" || !path.endsWith("/changes")) return undefined;
			asked += 1;
			const [first] = (body as { changes: { id: string }[] }).changes;
			const results = asked === 1 ? [{ id: first?.id, outcome: "repeated" }] : [];
			const headers = { "Content-Type": "application/json" };
			return new Response(JSON.stringify({ cursor: 1, results }), { headers });
		};
		await app.syncNow();
		expect(app.syncState.value.unsentChanges).toBe(1);
		expect(kindOf(app)).toBe("server trouble");
		expect(server.log(boat)).toHaveLength(1);
	});

	it("puts a refused change aside with its reason and sends all others", async () => {
		const { app, boat } = await pairedPhone(server);
		server.refuse = ({ set }) => (set.name === "bad" ? "the name is bad" : "");
		await app.keep([
			itemEdit(1, { name: "good" }),
			itemEdit(2, { name: "bad" }),
			itemEdit(3, { name: "also good" }),
		]);
		await app.syncNow();
		const { rejected, unsentChanges } = app.syncState.value;
		expect(server.log(boat)).toHaveLength(3);
		expect(unsentChanges).toBe(0);
		expect(rejected).toMatchObject([
			{ detail: "the name is bad", change: { set: { name: "bad" } } },
		]);
		expect(app.item(itemKey(2))?.name).toBe("bad");
	});

	it("sends a refused change again when asked, or takes it back when given up", async () => {
		const { app, boat } = await pairedPhone(server);
		await app.keep([itemEdit(1, { name: "before" })]);
		await app.syncNow();
		server.refuse = () => "not now";
		await app.keep([itemEdit(1, { name: "after" })]);
		await app.syncNow();
		const id = app.syncState.value.rejected[0]?.id ?? "";
		await app.sendAgain(id);
		await app.syncNow();
		expect(app.syncState.value.rejected).toHaveLength(1);
		await app.discardRejected(id);
		await app.recount();
		expect(app.syncState.value.rejected).toEqual([]);
		expect(app.item(itemKey(1))?.name).toBe("before");
		expect(server.log(boat)).toHaveLength(2);
	});

	it("finds the one change that makes the server refuse a whole batch", async () => {
		const { app, boat } = await pairedPhone(server);
		server.before = ({ method, path, body }) => {
			const isPush = method === "POST" && path.endsWith("/changes");
			const isPoison = isPush && JSON.stringify(body).includes("poison");
			return isPoison ? problem(422, "invalid", "can't be read") : undefined;
		};
		const names = ["a", "b", "c", "poison", "e", "f", "g"];
		await app.keep(names.map((name, at) => itemEdit(at, { name })));
		await app.syncNow();
		expect(server.log(boat)).toHaveLength(1 + 6);
		expect(app.syncState.value.rejected.map(({ change }) => change.set)).toEqual([
			{ name: "poison" },
		]);
	});

	it("merges two phones' edits of one item to the same record, whoever syncs first", async () => {
		const { app, boat } = await pairedPhone(server);
		await app.keep([itemEdit(1, { name: "Seacock" })]);
		await app.syncNow();
		const other = await secondPhone(boat);
		await app.keep([itemEdit(1, { condition: "worn", note: "from A" })]);
		// In the same millisecond the greater device id would win.
		vi.useFakeTimers({ toFake: ["Date"], now: Date.now() + 3 });
		await other.keep([itemEdit(1, { condition: "failed", place: "shelf" })]);
		await app.syncNow();
		await other.syncNow();
		await app.syncNow();
		expect(app.item(itemKey(1))).toEqual(other.item(itemKey(1)));
		expect(app.item(itemKey(1))).toMatchObject({
			condition: "failed",
			note: "from A",
			place: "shelf",
		});
	});

	it("knows after a reload, and offline, what the server has and who else has it", async () => {
		const { app, phone, boat } = await pairedPhone(server);
		const copy = { boat, name: "Anna", last_seen: "2026-05-04T11:57:00Z", whole: true };
		server.copies = [copy];
		await app.keep([itemEdit(1, { name: "Seacock" })]);
		await app.syncNow();
		await app.syncNow();
		server.before = () => {
			throw new TypeError("no signal");
		};
		const again = await startApp(phone);
		expect(again.session.value.received).toEqual({
			last: 2,
			completeTo: 2,
			missing: 0,
			copies: [copy],
		});
		expect(again.syncState.value.lastSeq).toBe(2);
		await again.keep([itemEdit(1, { condition: "worn" })]);
		await again.recount();
		expect(again.syncState.value.lastSeq).toBe(3);
	});

	it("keeps fields and tables of a newer version as they came", async () => {
		const { app, phone, boat } = await pairedPhone(server);
		const log = server.boats.get(boat)?.log;
		const first = log?.[0];
		if (!log || !first) throw new Error("no log");
		const later = {
			...first,
			device: "another",
			stamp: first.stamp.replace(/.$/, "f"),
			own_stamp: null,
		};
		log.push({
			...later,
			id: "x",
			table: "item",
			key: itemKey(1),
			set: { name: "Tank", polish: "matt" },
			cursor: 2,
		});
		log.push({ ...later, id: "y", table: "sail", key: "s", set: { cloth: "tan" }, cursor: 3 });
		await app.syncNow();
		expect(app.item(itemKey(1))?.name).toBe("Tank");
		const again = await startApp(phone);
		const rows = await again.readStores(["record"], (tx) => tx.objectStore("record").getAll());
		expect(rows.map(({ values }) => values)).toContainEqual({ cloth: "tan" });
		expect(rows.map(({ values }) => values)).toContainEqual({ name: "Tank", polish: "matt" });
	});
});
