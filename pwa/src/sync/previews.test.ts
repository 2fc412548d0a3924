import { beforeEach, describe, expect, it, vi } from "vitest";
import { FakeServer, problem } from "../testing/fake-server.ts";
import {
	type App,
	connect,
	itemKey,
	pairedPhone,
	photoOf,
	secondPhone,
	startApp,
} from "../testing/phone.ts";

const PREVIEW = /\/preview$/;
const FULL = /^\/api\/photos\/[0-9a-f]{64}$/;
const NAMES = Array.from({ length: 9 }, (_, at) => `picture ${at}`);

let server: FakeServer;

beforeEach(() => {
	vi.useRealTimers();
	server = new FakeServer();
	connect(server);
});

function digestOf(name: string): string {
	return photoOf(name).sha256;
}

function putsInOrder(): string[] {
	const puts = server.asked.filter(({ method }) => method === "PUT");
	return puts.map(({ path }) => (PREVIEW.test(path) ? "small" : "full"));
}

async function keepWithRecord(app: App, name: string): Promise<void> {
	const set = { sha256: digestOf(name), of: `item/${itemKey(1)}` };
	await app.keep([{ table: "photo", key: `p-${name.replaceAll(" ", "-")}`, set }], [photoOf(name)]);
}

async function thumbnailOn(app: App, name: string): Promise<string | null> {
	const bytes = await app.thumbnailBytes(digestOf(name));
	return bytes ? new TextDecoder().decode(bytes) : null;
}

describe("small copies", () => {
	it("of all photographs go before the first full one, and each goes once", async () => {
		const { app } = await pairedPhone(server);
		await app.keep([], NAMES.map(photoOf));
		await app.syncNow();
		const expected = [...NAMES.map(() => "small"), ...NAMES.map(() => "full")];
		expect(putsInOrder()).toEqual(expected);
		expect(server.previews.size).toBe(9);
		expect(new TextDecoder().decode(server.previews.get(digestOf("picture 3")))).toBe(
			"small picture 3",
		);
		expect(app.syncState.value).toMatchObject({ unsentPhotos: 0, problem: null });
	});

	it("hold up no full one on a phone so full that nothing can be noted", async () => {
		const { app } = await pairedPhone(server);
		await app.keep([], NAMES.map(photoOf));
		const put = IDBObjectStore.prototype.put;
		IDBObjectStore.prototype.put = () => {
			throw new DOMException("no room", "QuotaExceededError");
		};
		try {
			await app.syncNow();
		} finally {
			IDBObjectStore.prototype.put = put;
		}
		expect(server.count("PUT", FULL)).toBe(9);
		expect(server.count("PUT", PREVIEW)).toBe(9);
		expect(app.syncState.value).toMatchObject({ unsentPhotos: 0 });
	});

	it("of what is kept while a full one is under way go before the next full one", async () => {
		const { app } = await pairedPhone(server);
		await app.keep([], [photoOf("one"), photoOf("two")]);
		let kept = false;
		server.after = ({ method, path }) => {
			if (method !== "PUT" || !FULL.test(path) || kept) return;
			kept = true;
			void app.keep([], [photoOf("three")]);
		};
		await app.syncNow();
		expect(putsInOrder()).toEqual(["small", "small", "full", "small", "full", "full"]);
	});

	it("that have gone are not sent again after a reload; the full ones still are", async () => {
		const { app, phone } = await pairedPhone(server);
		await app.keep([], [photoOf("one"), photoOf("two")]);
		server.before = ({ method, path }) => {
			if (method === "PUT" && FULL.test(path)) throw new TypeError("cut");
			return undefined;
		};
		await app.syncNow();
		expect(server.previews.size).toBe(2);
		const again = await startApp(phone);
		server.before = () => undefined;
		server.asked.length = 0;
		await again.syncNow();
		expect(putsInOrder()).toEqual(["full", "full"]);
	});

	it("stay on the list until the server has answered with the photograph's digest", async () => {
		const { app } = await pairedPhone(server);
		await app.keep([], [photoOf("one")]);
		server.before = ({ path }) =>
			PREVIEW.test(path)
				? new Response("{}", { headers: { "Content-Type": "application/json" } })
				: undefined;
		await app.syncNow();
		expect(app.syncState.value.problem?.kind).toBe("server trouble");
		server.before = () => undefined;
		await app.syncNow();
		expect(server.previews.size).toBe(1);
	});

	it("an older server knows nothing of are no fault, and count for nothing", async () => {
		for (const answer of [problem(404, "no-such-page"), problem(405, "wrong-method")]) {
			server = new FakeServer();
			connect(server);
			const { app } = await pairedPhone(server);
			await app.keep([], [photoOf("one"), photoOf("two")]);
			server.before = ({ path }) => (PREVIEW.test(path) ? answer.clone() : undefined);
			const totals = new Set<number>();
			app.syncState.subscribe(({ photoBytesSent, photoBytesTotal }) => {
				if (photoBytesSent > 0) totals.add(photoBytesTotal);
			});
			await app.syncNow();
			expect(server.photos.size).toBe(2);
			expect([...totals]).toEqual([2 * photoOf("one").bytes.byteLength]);
			expect(app.syncState.value).toMatchObject({ unsentPhotos: 0, problem: null });
		}
	});

	it("that are damaged on the way go again; the full one waits for none", async () => {
		const { app } = await pairedPhone(server);
		await app.keep([], [photoOf("one")]);
		server.before = ({ path }) => (PREVIEW.test(path) ? problem(422, "photo-digest") : undefined);
		await app.syncNow();
		expect(server.photos.size).toBe(1);
		expect(app.syncState.value).toMatchObject({ unsentPhotos: 0 });
	});

	it("that are refused for good are left out, and nobody is told", async () => {
		const { app } = await pairedPhone(server);
		await app.keep([], [photoOf("one"), photoOf("two")]);
		const bad = digestOf("one");
		server.before = ({ path }) => {
			if (path.endsWith(`${bad}/preview`)) return problem(422, "not-a-picture");
			if (FULL.test(path)) throw new TypeError("cut");
			return undefined;
		};
		await app.syncNow();
		await app.syncNow();
		expect(server.count("PUT", new RegExp(`${bad}/preview`))).toBe(1);
		expect(app.syncState.value.problem?.kind).toBe("unreachable");
	});

	it("on which the line breaks again and again hold up the full ones no longer", async () => {
		const { app } = await pairedPhone(server);
		await app.keep([], [photoOf("stuck")]);
		server.before = ({ path }) => {
			if (PREVIEW.test(path)) throw new TypeError("cut");
			return undefined;
		};
		await app.syncNow();
		await app.syncNow();
		expect(server.photos.size).toBe(0);
		await app.syncNow();
		expect(server.photos.size).toBe(1);
	});

	it("wait, as full ones do, for a line that costs nothing", async () => {
		const { app } = await pairedPhone(server);
		await app.keep([], [photoOf("one")]);
		vi.stubGlobal("navigator", { connection: { saveData: true } });
		await app.syncNow();
		expect(server.previews.size).toBe(0);
		expect(app.syncState.value.pausedForMetered).toBe(true);
		vi.unstubAllGlobals();
		connect(server);
	});

	it("go to a server that was brought back, with the photographs", async () => {
		const { app } = await pairedPhone(server);
		await app.keep([], [photoOf("one")]);
		await app.syncNow();
		server.epoch = "epoch-2";
		server.photos.clear();
		server.previews.clear();
		await app.syncNow();
		expect(server.previews.size).toBe(1);
		expect(server.photos.size).toBe(1);
	});
});

describe("a small copy that another phone sent ahead", () => {
	it("is shown here, and gives way to the server's own when the photograph is there", async () => {
		const { app, boat } = await pairedPhone(server);
		await keepWithRecord(app, "one");
		server.before = ({ path }) => {
			if (FULL.test(path)) throw new TypeError("cut");
			return undefined;
		};
		await app.syncNow();
		vi.useFakeTimers({ toFake: ["Date"], now: Date.now() });
		const other = await secondPhone(boat);
		expect(await thumbnailOn(other, "one")).toBe("small one");
		server.asked.length = 0;
		vi.setSystemTime(Date.now() + 61_000);
		await other.syncNow();
		expect(server.count("GET", /missing/)).toBe(1);
		expect(server.count("GET", /thumbnail/)).toBe(0);

		server.before = () => undefined;
		server.photos.set(digestOf("one"), photoOf("one").bytes);
		vi.setSystemTime(Date.now() + 61_000);
		await other.syncNow();
		expect(await thumbnailOn(other, "one")).toBe("photograph one");
		server.asked.length = 0;
		vi.setSystemTime(Date.now() + 61_000);
		await other.syncNow();
		expect(server.count("GET", /missing|thumbnail/)).toBe(0);
	});

	it("is asked for again soon, when it was not there yet", async () => {
		const { app, boat } = await pairedPhone(server);
		await keepWithRecord(app, "one");
		vi.useFakeTimers({ toFake: ["Date"], now: Date.now() });
		server.before = ({ method }) => (method === "PUT" ? problem(503, "server-busy") : undefined);
		await app.syncNow();
		const other = await secondPhone(boat);
		expect(await thumbnailOn(other, "one")).toBeNull();
		server.previews.set(digestOf("one"), photoOf("one").thumbnail);
		vi.setSystemTime(Date.now() + 61_000);
		await other.syncNow();
		expect(await thumbnailOn(other, "one")).toBe("small one");
	});
});

describe("a phone that was updated while photographs waited", () => {
	it("sends them in full, for nothing says how small their copies are", async () => {
		const { app } = await pairedPhone(server);
		await app.keep([], [photoOf("one")]);
		await app.writeStores(["photo_outbox"], async (tx) => {
			const { sha256 } = photoOf("one");
			await tx.objectStore("photo_outbox").put({ sha256, size: 14, at: 1 });
		});
		await app.syncNow();
		expect(putsInOrder()).toEqual(["full"]);
	});
});
