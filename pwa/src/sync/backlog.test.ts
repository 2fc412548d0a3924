/** Weeks without a line: ten thousand edits and three thousand photographs that wait. */
import { beforeEach, describe, expect, it, vi } from "vitest";
import type { Edit } from "../domain/change.ts";
import { FakeServer } from "../testing/fake-server.ts";
import { connect, pairedPhone, photoOf, startApp } from "../testing/phone.ts";

const EDITS = 10_000;
const PHOTOS = 3_000;
const FULL = /^\/api\/photos\/[0-9a-f]{64}$/;
const PREVIEW = /\/preview$/;
/** A server takes no larger batch. */
const MOST = 2_000;

let server: FakeServer;

beforeEach(() => {
	vi.useRealTimers();
	server = new FakeServer();
	connect(server);
});

/** A line that breaks at the request after `requests` of those that `counts`. */
function breakAfter(
	requests: number,
	counts: (asked: { method: string; path: string }) => boolean,
) {
	let left = requests;
	server.before = (asked) => {
		if (!counts(asked)) return undefined;
		left -= 1;
		if (left < 0) throw new TypeError("cut");
		return undefined;
	};
}

describe("a long backlog", { timeout: 300_000 }, () => {
	it("of edits goes out in batches, and after a cut on from where it was", async () => {
		const { app, phone, boat } = await pairedPhone(server);
		const edits = Array.from({ length: EDITS }, (_, at): Edit => {
			return { table: "note", key: `note-${at}`, set: { text: `note ${at}` } };
		});
		for (let at = 0; at < EDITS; at += 2_500) await app.keep(edits.slice(at, at + 2_500));
		breakAfter(4, ({ method, path }) => method === "POST" && path.endsWith("/changes"));
		await app.syncNow();
		const { unsentChanges } = app.syncState.value;
		expect(unsentChanges).toBe(EDITS + 1 - server.log(boat).length);
		expect(unsentChanges).toBeGreaterThan(0);
		expect(unsentChanges).toBeLessThan(EDITS);
		server.before = () => undefined;
		const again = await startApp(phone);
		expect(again.syncState.value.unsentChanges).toBe(unsentChanges);
		server.asked.length = 0;
		await again.syncNow();
		expect(again.syncState.value).toMatchObject({ unsentChanges: 0, problem: null });
		expect(server.log(boat)).toHaveLength(EDITS + 1);
		const sizes = server.asked
			.filter(({ method, path }) => method === "POST" && path.endsWith("/changes"))
			.map(({ body }) => (body as { changes: unknown[] }).changes.length);
		expect(Math.max(...sizes)).toBeLessThanOrEqual(MOST);
		expect(sizes.reduce((sum, size) => sum + size, 0)).toBe(unsentChanges);
	});

	it("of photographs tells its bytes truly, one picture at a time, before and after a cut", async () => {
		const { app, phone } = await pairedPhone(server);
		const photos = Array.from({ length: PHOTOS }, (_, at) => photoOf(`picture ${at}`));
		for (let at = 0; at < PHOTOS; at += 500) await app.keep([], photos.slice(at, at + 500));
		// The small ones have gone; what follows is the long part.
		await app.writeStores(["photo_outbox"], async (tx) => {
			for (const { sha256, bytes } of photos) {
				await tx.objectStore("photo_outbox").put({ sha256, size: bytes.byteLength, at: 1 });
			}
		});
		const total = photos.reduce((sum, { bytes }) => sum + bytes.byteLength, 0);
		let underWay = 0;
		let most = 0;
		breakAfter(20, ({ method, path }) => method === "PUT" && FULL.test(path));
		const { before } = server;
		server.before = (asked) => {
			if (FULL.test(asked.path)) most = Math.max(most, ++underWay);
			return before(asked);
		};
		server.after = ({ path }) => {
			if (FULL.test(path)) underWay -= 1;
		};
		const told: { sent: number; total: number }[] = [];
		app.syncState.subscribe(({ photoBytesSent: sent, photoBytesTotal: all }) => {
			if (all > 0) told.push({ sent, total: all });
		});
		await app.syncNow();
		const arrived = [...server.photos.values()].reduce(
			(sum, { byteLength }) => sum + byteLength,
			0,
		);
		expect(server.photos.size).toBe(20);
		expect(server.count("PUT", PREVIEW)).toBe(0);
		expect(most).toBe(1);
		expect(new Set(told.map((one) => one.total))).toEqual(new Set([total]));
		expect(told.at(-1)?.sent).toBe(arrived);
		expect(told.map(({ sent }) => sent)).toEqual(
			told.map(({ sent }) => sent).sort((a, b) => a - b),
		);

		const again = await startApp(phone);
		expect(again.syncState.value).toMatchObject({
			unsentPhotos: PHOTOS - 20,
			unsentBytes: total - arrived,
		});
		breakAfter(20, ({ method, path }) => method === "PUT" && FULL.test(path));
		server.asked.length = 0;
		await again.syncNow();
		expect(server.photos.size).toBe(40);
		expect(again.syncState.value.photoBytesTotal).toBe(total - arrived);
	});
});
