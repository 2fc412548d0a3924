import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { FakeServer, problem } from "../testing/fake-server.ts";
import { type App, connect, itemKey, pairedPhone, photoOf, secondPhone } from "../testing/phone.ts";

const MISSING = /\/photos\/missing$/;
const FULL = /^\/api\/photos\/[0-9a-f]{64}$/;
const PREVIEW = /\/preview$/;
const ELEVEN_MINUTES_MS = 660_000;

let server: FakeServer;

beforeEach(() => {
	vi.useRealTimers();
	server = new FakeServer();
	connect(server);
});

afterEach(() => vi.unstubAllGlobals());

function digestOf(name: string): string {
	return photoOf(name).sha256;
}

/** A phone whose photographs of these names the server has confirmed, at a time that stands. */
async function phoneThatSent(...names: string[]) {
	const { app, phone, boat } = await pairedPhone(server);
	for (const name of names) {
		const set = { sha256: digestOf(name), of: `item/${itemKey(1)}` };
		await app.keep([{ table: "photo", key: `p-${name}`, set }], [photoOf(name)]);
	}
	await app.syncNow();
	expect(server.photos.size).toBe(names.length);
	vi.useFakeTimers({ toFake: ["Date"], now: Date.now() });
	return { app, phone, boat };
}

async function later(app: App): Promise<void> {
	vi.setSystemTime(Date.now() + ELEVEN_MINUTES_MS);
	server.asked.length = 0;
	await app.syncNow();
}

describe("a photograph that the server had confirmed and lists as missing", () => {
	it("is sent again by the phone that has it, small copy and all; what is there is not", async () => {
		const { app } = await phoneThatSent("lost", "there");
		server.photos.delete(digestOf("lost"));
		server.previews.clear();
		await later(app);
		expect(new TextDecoder().decode(server.photos.get(digestOf("lost")))).toBe("photograph lost");
		expect(server.count("PUT", FULL)).toBe(1);
		expect(server.count("PUT", PREVIEW)).toBe(1);
		expect(app.syncState.value).toMatchObject({ unsentPhotos: 0, problem: null });
	});

	it("is sent by any phone that has it in full, whoever took it", async () => {
		const { boat } = await phoneThatSent("lost");
		const other = await secondPhone(boat);
		expect(await other.keepPhotoHere(digestOf("lost"))).toBe(true);
		server.photos.clear();
		await later(other);
		expect(server.photos.size).toBe(1);
	});

	it("counts as unsent from then on, so that no room is made of it", async () => {
		const { app } = await phoneThatSent("lost");
		server.photos.clear();
		server.before = ({ method }) => {
			if (method === "PUT") throw new TypeError("cut");
			return undefined;
		};
		await later(app);
		expect(app.syncState.value.unsentPhotos).toBe(1);
		expect(await app.trimPhotos(0)).toBe(0);
		server.before = () => undefined;
		await app.syncNow();
		expect(server.photos.size).toBe(1);
	});

	it("is left alone by a phone that no longer has it", async () => {
		const { app } = await phoneThatSent("gone", "there");
		expect(await app.trimPhotos(0)).toBeGreaterThan(0);
		server.photos.clear();
		await later(app);
		expect(server.count("PUT", FULL)).toBe(0);
		expect(app.syncState.value).toMatchObject({ unsentPhotos: 0, problem: null });
	});
});

describe("the list of what is missing", () => {
	it("is not asked for in every round, and not over a line that costs money", async () => {
		const { app } = await phoneThatSent("one");
		await later(app);
		await app.syncNow();
		expect(server.count("GET", MISSING)).toBe(1);
		vi.stubGlobal("navigator", { connection: { saveData: true } });
		await later(app);
		expect(server.count("GET", MISSING)).toBe(0);
	});

	it("is asked for again soon when the line broke, and is no fault where there is none", async () => {
		const { app } = await phoneThatSent("one");
		server.before = ({ path }) => {
			if (MISSING.test(path)) throw new TypeError("cut");
			return undefined;
		};
		await later(app);
		server.before = ({ path }) => (MISSING.test(path) ? problem(404, "no-such-boat") : undefined);
		await app.syncNow();
		expect(server.count("GET", MISSING)).toBe(2);
		expect(app.syncState.value.problem).toBeNull();
	});

	it("that makes no sense sends nothing", async () => {
		const { app } = await phoneThatSent("one");
		server.before = ({ path }) =>
			MISSING.test(path)
				? new Response('{"photos": "all"}', { headers: { "Content-Type": "application/json" } })
				: undefined;
		await later(app);
		expect(server.count("PUT", FULL)).toBe(0);
	});
});
