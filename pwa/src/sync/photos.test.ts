import { beforeEach, describe, expect, it, vi } from "vitest";
import { FakeServer, problem } from "../testing/fake-server.ts";
import { connect, itemEdit, itemKey, pairedPhone, photoOf, secondPhone } from "../testing/phone.ts";

let server: FakeServer;

beforeEach(() => {
	vi.useRealTimers();
	server = new FakeServer();
	connect(server);
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
		server.before = ({ method, path }) => {
			if (method !== "PUT" || path.endsWith("/preview") || !first) return undefined;
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
