import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { FakeServer, json, NEVER, problem } from "../testing/fake-server.ts";
import { type App, connect, itemEdit, pairedPhone, photoOf, until } from "../testing/phone.ts";

let server: FakeServer;

beforeEach(() => {
	vi.useRealTimers();
	server = new FakeServer();
	connect(server);
});

afterEach(() => {
	vi.useRealTimers();
	vi.unstubAllGlobals();
});

const kindOf = (app: App): string | undefined => app.syncState.value.problem?.kind;
const long = (at: number) => itemEdit(at, { note: `a long note ${at} `.repeat(80) });

/** Let `ms` pass for all timers of the app while it works. */
async function pass(ms: number): Promise<void> {
	await vi.advanceTimersByTimeAsync(ms);
}

describe("a bad line", () => {
	it.each([
		["a greeting", /ping/],
		["a batch of changes", /changes$/],
		["a page of changes", /changes\?/],
		["a photograph", /photos/],
	])("that accepts %s and never answers is given up", async (_name, path) => {
		const { app } = await pairedPhone(server);
		await app.keep([itemEdit(1, { name: "Seacock" })], [photoOf("one")]);
		server.before = (asked) => (path.test(asked.path) ? NEVER : undefined);
		vi.useFakeTimers({ toFake: ["setTimeout", "clearTimeout"] });
		const syncing = app.syncNow();
		await until(() => expect(server.asked.at(-1)?.path).toMatch(path));
		await pass(25_000);
		await syncing;
		expect(kindOf(app)).toBe("unreachable");
		vi.useRealTimers();
		server.before = () => undefined;
		await app.syncNow();
		expect(app.syncState.value).toMatchObject({ unsentChanges: 0, unsentPhotos: 0, problem: null });
	});

	it.each([
		["a greeting", /ping/],
		["who this phone is", /session$/],
		["a batch of changes", /changes$/],
		["a photograph", /photos/],
	])("is given up though the browser leaves %s open after its abort", async (_name, path) => {
		const { app } = await pairedPhone(server);
		await app.keep([itemEdit(1, { name: "Seacock" })], [photoOf("one")]);
		let reached = false;
		vi.stubGlobal("fetch", (asked: string, init?: RequestInit) => {
			if (!path.test(asked)) return server.fetch(asked, init);
			reached = true;
			return NEVER;
		});
		vi.useFakeTimers({ toFake: ["setTimeout", "clearTimeout"] });
		const syncing = app.syncNow();
		await until(() => expect(reached).toBe(true));
		await pass(25_000);
		await syncing;
		expect(app.syncState.value).toMatchObject({ running: false, online: "no" });
		expect(kindOf(app)).toBe("unreachable");
		vi.useRealTimers();
		connect(server);
		await app.syncNow();
		expect(app.syncState.value).toMatchObject({ unsentChanges: 0, unsentPhotos: 0, problem: null });
	});

	it("that falls silent in the middle of an answer is given up, and nothing is taken in", async () => {
		const { app } = await pairedPhone(server);
		await app.keep([itemEdit(1, { name: "Seacock" })]);
		server.before = ({ method, path }) => {
			if (method !== "POST" || !path.endsWith("/changes")) return undefined;
			const half = new TextEncoder().encode('{"cursor":2,"results":[{"id":');
			const body = new ReadableStream({ start: (control) => control.enqueue(half) });
			return new Response(body, { headers: { "Content-Type": "application/json" } });
		};
		vi.useFakeTimers({ toFake: ["setTimeout", "clearTimeout"] });
		const syncing = app.syncNow();
		await until(() => expect(server.asked.at(-1)?.path).toMatch(/changes$/));
		await pass(25_000);
		await syncing;
		expect(app.syncState.value).toMatchObject({ unsentChanges: 1, online: "no" });
	});

	it("that ends in the middle of an answer loses nothing", async () => {
		const { app, boat } = await pairedPhone(server);
		await app.keep([itemEdit(1, { name: "Seacock" })]);
		server.before = ({ method, path }) =>
			method === "POST" && path.endsWith("/changes")
				? new Response('{"cursor":2,"results":[{"id":', {
						headers: { "Content-Type": "application/json" },
					})
				: undefined;
		await app.syncNow();
		expect(kindOf(app)).toBe("not our server");
		server.before = () => undefined;
		await app.syncNow();
		expect(server.log(boat)).toHaveLength(2);
	});

	it("sends large batches packed, and plain to whoever refuses that", async () => {
		const { app, boat } = await pairedPhone(server);
		await app.keep([long(1), long(2)]);
		await app.syncNow();
		expect(server.asked.some(({ headers }) => headers.get("Content-Encoding") === "gzip")).toBe(
			true,
		);
		expect(server.log(boat)).toHaveLength(3);
		server.gunzips = false;
		await app.keep([long(3)]);
		await app.syncNow();
		await app.keep([long(4)]);
		await app.syncNow();
		expect(server.log(boat)).toHaveLength(5);
		const packed = server.asked.filter(({ headers }) => headers.has("Content-Encoding"));
		expect(packed).toHaveLength(2);
		expect(app.syncState.value).toMatchObject({ unsentChanges: 0, rejected: [], problem: null });
	});

	it("sends plain where the browser can't pack", async () => {
		vi.stubGlobal("CompressionStream", undefined);
		const { app, boat } = await pairedPhone(server);
		await app.keep([long(1)]);
		await app.syncNow();
		expect(server.log(boat)).toHaveLength(2);
		expect(server.asked.some(({ headers }) => headers.has("Content-Encoding"))).toBe(false);
	});

	it("sends plain where packing never ends, and does not wait for it twice", async () => {
		let packs = false;
		const write = (): Promise<never> => {
			packs = true;
			return NEVER as Promise<never>;
		};
		class Hangs {
			readonly readable = new ReadableStream();
			readonly writable = new WritableStream({ write });
		}
		vi.stubGlobal("CompressionStream", Hangs);
		const { app, boat } = await pairedPhone(server);
		await app.keep([long(1)]);
		vi.useFakeTimers({ toFake: ["setTimeout", "clearTimeout"] });
		const syncing = app.syncNow();
		await until(() => expect(packs).toBe(true));
		await pass(6_000);
		await syncing;
		vi.useRealTimers();
		await app.keep([long(2)]);
		await app.syncNow();
		expect(server.log(boat)).toHaveLength(3);
		expect(app.syncState.value).toMatchObject({ unsentChanges: 0, problem: null });
	});

	it("leaves alone what was put back in the queue while a batch was under way", async () => {
		const { app } = await pairedPhone(server);
		server.refuse = ({ set }) => (set.name === "two" ? "not now" : "");
		await app.keep([itemEdit(2, { name: "two" })]);
		await app.syncNow();
		const id = app.syncState.value.rejected[0]?.id ?? "";
		await app.keep([itemEdit(1, { name: "one" })]);
		server.before = () => {
			throw new TypeError("no signal");
		};
		await app.sendAgain(id);
		await app.syncNow();
		expect(app.syncState.value.unsentChanges).toBe(2);
		server.before = ({ method, path, body }) => {
			if (method !== "POST" || !path.endsWith("/changes")) return undefined;
			const [, last] = (body as { changes: { id: string }[] }).changes;
			return json({ cursor: 1, results: last ? [{ id: last.id, outcome: "accepted" }] : [] });
		};
		await app.syncNow();
		expect(app.syncState.value.unsentChanges).toBe(1);
	});
});

const FULL = /^\/api\/photos\/[0-9a-f]{64}$/;

function sumOf(parts: readonly ArrayBuffer[]): number {
	return parts.reduce((sum, { byteLength }) => sum + byteLength, 0);
}

describe("a slow photograph", () => {
	it("delays no change that is kept while it is under way", async () => {
		const { app, boat } = await pairedPhone(server);
		await app.keep([], [photoOf("one")]);
		let release = (_answer: Response): void => {};
		const slow = new Promise<Response>((resolve) => {
			release = resolve;
		});
		server.before = ({ method, path }) => (method === "PUT" && FULL.test(path) ? slow : undefined);
		const first = app.syncNow();
		await until(() => expect(server.count("PUT", FULL)).toBe(1));
		await app.keep([itemEdit(1, { name: "Seacock" })]);
		await app.syncNow();
		expect(server.log(boat).map(({ table }) => table)).toEqual(["boat", "item"]);
		expect(app.syncState.value).toMatchObject({ unsentChanges: 0, unsentPhotos: 1, running: true });
		release(json({ sha256: photoOf("one").sha256 }));
		await first;
		expect(app.syncState.value).toMatchObject({ unsentPhotos: 0, running: false });
	});

	it("that was stuck goes behind the others", async () => {
		const { app } = await pairedPhone(server);
		await app.keep([], [photoOf("stuck")]);
		await app.keep([], [photoOf("fine, and a little larger")]);
		server.before = ({ path }) => {
			if (path.endsWith(photoOf("stuck").sha256)) throw new TypeError("cut");
			return undefined;
		};
		await app.syncNow();
		expect(server.photos.size).toBe(0);
		await app.syncNow();
		expect(server.photos.size).toBe(1);
		expect(app.syncState.value.unsentPhotos).toBe(1);
	});

	it("is a matter of bytes: they are counted as they arrive", async () => {
		const { app } = await pairedPhone(server);
		await app.keep([], [photoOf("one"), photoOf("two"), photoOf("three")]);
		const seen: number[] = [];
		const small = sumOf(["one", "two", "three"].map((name) => photoOf(name).thumbnail));
		const total = small + sumOf(["one", "two", "three"].map((name) => photoOf(name).bytes));
		app.syncState.subscribe(({ photoBytesSent, photoBytesTotal }) => {
			if (photoBytesTotal === total && seen.at(-1) !== photoBytesSent) seen.push(photoBytesSent);
		});
		await app.syncNow();
		const one = photoOf("one").bytes.byteLength;
		expect(seen).toEqual([0, small, small + one, small + 2 * one]);
		expect(app.syncState.value).toMatchObject({ photoBytesSent: 0, photoBytesTotal: 0 });
	});

	it("refused for lack of room on the server is sent later", async () => {
		const { app } = await pairedPhone(server);
		await app.keep([], [photoOf("one")]);
		server.before = ({ method }) => (method === "PUT" ? problem(507, "disk-full") : undefined);
		await app.syncNow();
		expect(kindOf(app)).toBe("server full");
		server.before = () => undefined;
		await app.syncNow();
		expect(app.syncState.value.unsentPhotos).toBe(0);
	});
});

describe("a line that costs money", () => {
	function onMobileData(): void {
		vi.stubGlobal("navigator", { connection: { type: "cellular" } });
	}

	it("carries changes, while photographs wait and say so", async () => {
		const { app, boat } = await pairedPhone(server);
		onMobileData();
		await app.keep([itemEdit(1, { name: "Seacock" })], [photoOf("one")]);
		const before = app.syncState.value.lastSyncedAt;
		await app.syncNow();
		expect(server.log(boat)).toHaveLength(2);
		expect(app.syncState.value).toMatchObject({ unsentPhotos: 1, pausedForMetered: true });
		expect(app.syncState.value.lastSyncedAt).toBe(before);
	});

	it("carries photographs too when the person says so, once or always", async () => {
		const { app } = await pairedPhone(server);
		onMobileData();
		await app.keep([], [photoOf("one")]);
		await app.sendPhotosAnyway();
		expect(app.syncState.value).toMatchObject({ unsentPhotos: 0, pausedForMetered: false });
		await app.keep([], [photoOf("two")]);
		await app.syncNow();
		expect(app.syncState.value).toMatchObject({ unsentPhotos: 1, pausedForMetered: true });
		await app.setSendPhotosOn("any");
		await app.syncNow();
		expect(app.syncState.value).toMatchObject({ unsentPhotos: 0, pausedForMetered: false });
	});
});

describe("a round that stands still outside of any request", () => {
	it("is given up, says so, and the next one sends what waits", async () => {
		const { app } = await pairedPhone(server);
		await app.keep([], ["one", "two", "three", "four"].map(photoOf));
		let asked = false;
		const wakeLock = {
			request: () => {
				asked = true;
				return NEVER;
			},
		};
		vi.stubGlobal("navigator", { wakeLock });
		vi.useFakeTimers({ toFake: ["setTimeout", "clearTimeout"] });
		const syncing = app.syncNow();
		await until(() => expect(asked).toBe(true));
		await pass(24_000);
		expect(app.syncState.value.running).toBe(true);
		await pass(12_000);
		vi.useRealTimers();
		await syncing;
		expect(kindOf(app)).toBe("stalled");
		expect(app.syncState.value).toMatchObject({ running: false, unsentPhotos: 4 });
		vi.useRealTimers();
		vi.stubGlobal("navigator", {});
		await app.syncNow();
		expect(app.syncState.value).toMatchObject({ unsentPhotos: 0, running: false, problem: null });
	});

	it("is given up when the browser's lock between pages never answers", async () => {
		const { app } = await pairedPhone(server);
		await app.keep([itemEdit(1, { name: "Seacock" })]);
		vi.stubGlobal("navigator", { locks: { request: () => NEVER } });
		vi.useFakeTimers({ toFake: ["setTimeout", "clearTimeout"] });
		const syncing = app.syncNow();
		await pass(66_000);
		await syncing;
		vi.useRealTimers();
		vi.stubGlobal("navigator", {});
		await app.syncNow();
		expect(app.syncState.value).toMatchObject({ unsentChanges: 0, problem: null });
	});
});
