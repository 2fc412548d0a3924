import { beforeEach, describe, expect, it, vi } from "vitest";
import { FakeServer, page, problem } from "../testing/fake-server.ts";
import {
	type App,
	connect,
	itemEdit,
	itemKey,
	newPhone,
	pairedPhone,
	photoOf,
	startApp,
} from "../testing/phone.ts";

let server: FakeServer;

beforeEach(() => {
	vi.useRealTimers();
	server = new FakeServer();
	connect(server);
});

/** A second phone, paired, that has received the boat. */
async function secondPhone(boat: string): Promise<App> {
	const app = await startApp(newPhone());
	await app.pair("RIGHT", "Phone B");
	await app.chooseBoat(boat);
	await app.syncNow();
	return app;
}

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

	it("sends in batches of at most 500 and receives in pages", async () => {
		const { app, boat } = await pairedPhone(server);
		const edits = Array.from({ length: 1_100 }, (_, at) => itemEdit(at, { name: `item ${at}` }));
		await app.keep(edits);
		await app.syncNow();
		expect(server.log(boat)).toHaveLength(1_101);
		const batches = server.asked.filter(
			({ method, path }) => method === "POST" && /changes$/.test(path),
		);
		const sizes = batches.map(({ body }) => (body as { changes: unknown[] }).changes.length);
		expect(sizes).toEqual([1, 500, 500, 100]);
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

describe("a wrong answer loses nothing", () => {
	async function phoneWithWork(): Promise<App> {
		const { app } = await pairedPhone(server);
		await app.keep([itemEdit(1, { name: "Seacock" })], [photoOf("one")]);
		return app;
	}

	async function expectAllStillWaits(app: App): Promise<void> {
		expect(app.syncState.value).toMatchObject({ unsentChanges: 1, unsentPhotos: 1 });
		server.before = () => undefined;
		await app.syncNow();
		expect(app.syncState.value).toMatchObject({ unsentChanges: 0, unsentPhotos: 0, problem: null });
	}

	it.each([
		["a sign-in page of the Wi-Fi", () => page(), "not our server"],
		["a sign-in page with an error", () => page(403), "not our server"],
		[
			"JSON of something else",
			() => new Response('{"ok":1}', { headers: { "Content-Type": "application/json" } }),
			"not our server",
		],
		[
			"broken JSON",
			() => new Response('{"server":', { headers: { "Content-Type": "application/json" } }),
			"not our server",
		],
		[
			"null",
			() => new Response("null", { headers: { "Content-Type": "application/json" } }),
			"not our server",
		],
		["a proxy without its server", () => page(502), "server trouble"],
		["a busy server", () => problem(503, "server-busy"), "busy"],
		["a full server", () => problem(507, "disk-full"), "server full"],
		["a server that finds the app too old", () => problem(409, "client-too-old"), "reload"],
	])("%s", async (_name, answer, kind) => {
		const app = await phoneWithWork();
		server.before = answer;
		await app.syncNow();
		expect(kindOf(app)).toBe(kind);
		await expectAllStillWaits(app);
	});

	it("a page in place of each single answer", async () => {
		const app = await phoneWithWork();
		for (const path of [/session$/, /changes$/, /changes\?/, /photos/, /rules$/]) {
			server.before = (asked) => (path.test(asked.path) ? page() : undefined);
			await app.syncNow();
			expect(kindOf(app), String(path)).toBe("not our server");
		}
		server.before = () => undefined;
		await app.syncNow();
		expect(app.syncState.value).toMatchObject({ unsentChanges: 0, unsentPhotos: 0, problem: null });
	});

	it("another Shedtally server at the same address gets nothing", async () => {
		const app = await phoneWithWork();
		const asked = server.count("POST", /changes$/);
		server.id = "server-2";
		await app.syncNow();
		expect(kindOf(app)).toBe("other server");
		expect(server.count("POST", /changes$/)).toBe(asked);
		server.id = "server-1";
		await expectAllStillWaits(app);
	});

	it("a server that forgot the phone: work goes on, and is sent after pairing again", async () => {
		const app = await phoneWithWork();
		server.paired.clear();
		await app.syncNow();
		expect(kindOf(app)).toBe("pair again");
		expect(app.session.value.paired).toBe(false);
		await app.keep([itemEdit(2, { name: "Tank" })]);
		await app.recount();
		expect(app.syncState.value.unsentChanges).toBe(2);
		await app.pair("RIGHT", "Phone A");
		await app.syncNow();
		expect(app.syncState.value).toMatchObject({ unsentChanges: 0, unsentPhotos: 0, problem: null });
	});

	it("a wrong pairing code is named as the server names it", async () => {
		const app = await startApp(newPhone());
		await expect(app.pair("WRONG", "Phone A")).rejects.toMatchObject({
			problem: { kind: "refused", todo: "Ask for a new code." },
		});
		expect(app.session.value.paired).toBe(false);
	});

	it("a phone that was never paired says so", async () => {
		const app = await startApp(newPhone());
		await app.syncNow();
		expect(kindOf(app)).toBe("not paired");
	});
});

describe("photographs", () => {
	it("stay in the queue until the server has returned their digest", async () => {
		const { app } = await pairedPhone(server);
		await app.keep([itemEdit(1, { name: "Seacock" })], [photoOf("one")]);
		server.before = ({ method, path }) => {
			if (method !== "PUT") return undefined;
			const sha256 = path.replace(/.*\//, "").replace(/^./, "f");
			return new Response(JSON.stringify({ sha256 }), {
				headers: { "Content-Type": "application/json" },
			});
		};
		await app.syncNow();
		expect(app.syncState.value.unsentPhotos).toBe(1);
		server.before = () => undefined;
		await app.syncNow();
		expect(app.syncState.value.unsentPhotos).toBe(0);
		expect(await app.photoBytes(photoOf("one").sha256)).toBeDefined();
	});

	it("that are damaged on the way are sent again, and hold up no other", async () => {
		const { app } = await pairedPhone(server);
		await app.keep([], [photoOf("one"), photoOf("two")]);
		let first = true;
		server.before = ({ method }) => {
			if (method !== "PUT" || !first) return undefined;
			first = false;
			return problem(422, "photo-cut-short");
		};
		await app.syncNow();
		expect(app.syncState.value.unsentPhotos).toBe(1);
		await app.syncNow();
		expect(app.syncState.value.unsentPhotos).toBe(0);
	});

	it("that the server refuses stay on the phone and hold up no other", async () => {
		const { app } = await pairedPhone(server);
		await app.keep([], [photoOf("one"), photoOf("two")]);
		const bad = photoOf("one").sha256;
		server.before = ({ method, path }) =>
			method === "PUT" && path.endsWith(bad) ? problem(422, "not-a-picture") : undefined;
		await app.syncNow();
		expect([...server.photos.keys()]).toEqual([photoOf("two").sha256]);
		expect(app.syncState.value).toMatchObject({ unsentPhotos: 1, problem: null });
		expect(await app.photoBytes(bad)).toBeDefined();
	});

	it("go after the changes, so that a slow one delays no change", async () => {
		const { app } = await pairedPhone(server);
		await app.keep([itemEdit(1, { name: "Seacock" })], [photoOf("one")]);
		server.asked.length = 0;
		await app.syncNow();
		const order = server.asked.map(({ method, path }) => `${method} ${path.split("/")[2]}`);
		expect(order.indexOf("POST boats")).toBeLessThan(order.indexOf("PUT photos"));
		expect(order.indexOf("GET boats")).toBeLessThan(order.indexOf("PUT photos"));
	});

	it("of another phone come as small copies, for use with no signal", async () => {
		const { app, boat } = await pairedPhone(server);
		const { sha256 } = photoOf("one");
		await app.keep(
			[{ table: "photo", key: "p", set: { sha256, of: `item/${itemKey(1)}` } }],
			[photoOf("one")],
		);
		await app.syncNow();
		const other = await secondPhone(boat);
		expect(await other.withoutThumbnail([sha256])).toEqual([]);
		expect(await other.photoBytes(sha256)).toBeUndefined();
	});
});

describe("clocks and backups", () => {
	it("a phone whose clock is years ahead neither wins for ever nor loses its edit", async () => {
		const { app, boat } = await pairedPhone(server);
		vi.useFakeTimers({ toFake: ["Date"], now: Date.now() + 10 * 365 * 86_400_000 });
		server.ahead_ms = -10 * 365 * 86_400_000;
		await app.keep([itemEdit(1, { condition: "worn" })]);
		await app.syncNow();
		expect(app.item(itemKey(1))?.condition).toBe("worn");
		expect(server.log(boat).at(-1)?.own_stamp).not.toBeNull();
		vi.useRealTimers();
		server.ahead_ms = 0;
		const other = await secondPhone(boat);
		vi.useFakeTimers({ toFake: ["Date"], now: Date.now() + 10_000 });
		await other.keep([itemEdit(1, { condition: "failed" })]);
		await other.syncNow();
		await app.syncNow();
		expect(app.item(itemKey(1))?.condition).toBe("failed");
		await app.keep([itemEdit(1, { note: "later" })]);
		await app.syncNow();
		expect(server.log(boat).at(-1)?.own_stamp).toBeNull();
	});

	it("a phone whose clock is years behind still wins over what it has seen", async () => {
		const { app, boat } = await pairedPhone(server);
		await app.keep([itemEdit(1, { condition: "worn" })]);
		await app.syncNow();
		vi.useFakeTimers({ toFake: ["Date"], now: 1_000_000_000_000 });
		const phone = newPhone();
		const other = await startApp(phone);
		await other.pair("RIGHT", "Phone B");
		await other.chooseBoat(boat);
		server.ahead_ms = 1_900_000_000_000 - 1_000_000_000_000;
		await other.syncNow();
		expect(other.syncState.value.clockOffsetMs).toBe(server.ahead_ms);
		await other.keep([itemEdit(1, { condition: "failed" })]);
		expect(other.item(itemKey(1))?.condition).toBe("failed");
	});

	it("an edit wins over what its author has seen, though that was stamped minutes ahead", async () => {
		const { app, boat } = await pairedPhone(server);
		await app.keep([itemEdit(1, { condition: "worn" })]);
		await app.syncNow();
		vi.useFakeTimers({ toFake: ["Date"], now: Date.now() - 180_000 });
		const other = await secondPhone(boat);
		await other.keep([itemEdit(1, { condition: "failed" })]);
		expect(other.item(itemKey(1))?.condition).toBe("failed");
	});

	it("gives a server restored from a backup everything again, and reads it from the start", async () => {
		const { app, boat } = await pairedPhone(server);
		await app.keep([itemEdit(1, { name: "Seacock" })], [photoOf("one")]);
		await app.syncNow();
		server.boats.get(boat)?.log.splice(1);
		server.photos.clear();
		server.epoch = "epoch-2";
		await app.keep([itemEdit(2, { name: "Tank" })]);
		await app.syncNow();
		expect(server.log(boat).map(({ set }) => set.name)).toEqual(["Corncrake", "Seacock", "Tank"]);
		expect(server.photos.size).toBe(1);
		expect(app.item(itemKey(1))?.name).toBe("Seacock");
		expect(app.syncState.value).toMatchObject({ unsentChanges: 0, rejected: [], problem: null });
	});

	it("sends a change whose stamp was put right as it was, when it has to be sent again", async () => {
		const { app } = await pairedPhone(server);
		const real = Date.now();
		vi.useFakeTimers({ toFake: ["Date"], now: real + 86_400_000 });
		server.ahead_ms = -86_400_000;
		await app.keep([itemEdit(1, { name: "Seacock" })]);
		await app.syncNow();
		server.epoch = "epoch-2";
		await app.syncNow();
		expect(app.syncState.value).toMatchObject({ unsentChanges: 0, rejected: [], problem: null });
	});
});

describe("the file of what is on this phone only", () => {
	it("holds every unsent and refused change and photograph, without asking the server", async () => {
		const { app, boat } = await pairedPhone(server);
		server.refuse = () => "not this";
		await app.keep([itemEdit(1, { name: "refused" })]);
		await app.syncNow();
		server.before = () => {
			throw new TypeError("no signal");
		};
		await app.keep([itemEdit(2, { name: "waits" })], [photoOf("one"), photoOf("two")]);
		const file = JSON.parse(await (await app.exportUnsent()).text());
		expect(file).toMatchObject({ format: "shedtally-unsent", version: 1, server: "server-1" });
		expect(file.changes).toMatchObject([
			{ boat, table: "item", set: { name: "refused" } },
			{ boat, table: "item", set: { name: "waits" } },
		]);
		const texts = file.photos.map(({ base64 }: { base64: string }) => atob(base64)).sort();
		expect(texts).toEqual(["photograph one", "photograph two"]);
	});
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
