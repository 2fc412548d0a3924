import { beforeEach, describe, expect, it, vi } from "vitest";
import type { Edit } from "../domain/change.ts";
import { FakeServer } from "../testing/fake-server.ts";
import {
	type App,
	connect,
	itemKey,
	newPhone,
	pairedPhone,
	photoOf,
	startApp,
	until,
} from "../testing/phone.ts";
import { inSendingOrder } from "./queue.ts";

const DAY_MS = 86_400_000;
const NOW = Date.parse("2026-05-04T12:00:00Z");
const NAMES = ["a", "b", "c"];

let server: FakeServer;

beforeEach(() => {
	vi.useRealTimers();
	vi.unstubAllGlobals();
	server = new FakeServer();
	connect(server);
});

/** The record of a photograph; a later letter is a newer one. `bytes` as the record says. */
function photoEdit(name: string, bytes: number): Edit {
	const set = { sha256: photoOf(name).sha256, of: `item/${itemKey(1)}`, bytes, type: "image/jpeg" };
	return { table: "photo", key: `photo-${name}`, set } as Edit;
}

/** A boat with three photographs of `bytes` each on the server, and a phone that came later. */
async function laterPhone(bytes: number): Promise<App> {
	const { app, boat } = await pairedPhone(server);
	await app.keep(
		NAMES.map((name) => photoEdit(name, bytes)),
		NAMES.map(photoOf),
	);
	await app.syncNow();
	const other = await startApp(newPhone());
	await other.pair("RIGHT", "Phone B");
	await other.chooseBoat(boat);
	return other;
}

async function fullOn(app: App): Promise<string[]> {
	const missing = await app.withoutFull(NAMES.map((name) => photoOf(name).sha256));
	return NAMES.filter((name) => !missing.includes(photoOf(name).sha256));
}

describe("pictures of other phones", () => {
	it("come small for all items, and full only on demand", async () => {
		const other = await laterPhone(1_000_000);
		await other.syncNow();
		expect(await other.withoutThumbnail(NAMES.map((name) => photoOf(name).sha256))).toEqual([]);
		expect(await fullOn(other)).toEqual([]);
		expect(await other.keepPhotoHere(photoOf("b").sha256)).toBe(true);
		expect(await fullOn(other)).toEqual(["b"]);
	});

	it("come full, the newest first, as far as the budget goes, when all are wanted", async () => {
		const other = await laterPhone(1_000_000);
		await other.setBudgetMb(2);
		await other.setKeepAll(true);
		await other.syncNow();
		expect(await fullOn(other)).toEqual(["b", "c"]);
	});

	it("stay away from a line that costs money", async () => {
		const other = await laterPhone(1_000);
		await other.setKeepAll(true);
		vi.stubGlobal("navigator", { connection: { saveData: true } });
		await other.syncNow();
		expect(await fullOn(other)).toEqual([]);
		expect(await other.withoutThumbnail([photoOf("a").sha256])).toHaveLength(1);
	});

	it("that are still on their phone are not asked for again at once", async () => {
		const other = await laterPhone(1_000);
		server.photos.delete(photoOf("a").sha256);
		await other.syncNow();
		await other.syncNow();
		expect(server.count("GET", new RegExp(`${photoOf("a").sha256}/thumbnail`))).toBe(1);
		expect(other.syncState.value.problem).toBeNull();
	});

	it("stay away from a phone that has little room", async () => {
		const other = await laterPhone(1_000);
		const estimate = async () => ({ usage: 0, quota: 199_000_000 });
		vi.stubGlobal("navigator", { storage: { estimate } });
		await other.syncNow();
		expect(await other.withoutThumbnail([photoOf("a").sha256])).toHaveLength(1);
	});
});

describe("the budget", () => {
	it("drops what was not looked at for longest, and never what the server lacks", async () => {
		const { app } = await pairedPhone(server);
		vi.useFakeTimers({ toFake: ["Date"], now: NOW });
		for (const name of NAMES) {
			vi.setSystemTime(Date.now() + 1_000);
			await app.keep([], [photoOf(name)]);
		}
		await app.syncNow();
		await app.keep([], [photoOf("unsent")]);
		vi.setSystemTime(Date.now() + 1_000);
		await app.photoUrl(photoOf("a").sha256, "full");
		const size = photoOf("a").bytes.byteLength;
		await until(async () => {
			const use = await app.readStores(["photo_use"], (tx) =>
				tx.objectStore("photo_use").get(photoOf("a").sha256),
			);
			expect(use?.at).toBe(NOW + 4_000);
		});
		expect(await app.trimPhotos((2 * size) / 1_000_000)).toBe(size);
		expect(await fullOn(app)).toEqual(["a", "c"]);
		expect(await app.trimPhotos(0)).toBe(2 * size);
		expect(await app.withoutFull([photoOf("unsent").sha256])).toEqual([]);
		expect(await app.withoutThumbnail(NAMES.map((name) => photoOf(name).sha256))).toEqual([]);
	});

	it("is kept as it was set, within reason", async () => {
		const phone = newPhone();
		const app = await startApp(phone);
		await app.setBudgetMb(-5);
		await app.setKeepAll(true);
		expect((await startApp(phone)).settings.value).toEqual({
			sendPhotosOn: "wifi",
			keepAll: true,
			budgetMb: 0,
		});
	});
});

describe("the order of sending", () => {
	const row = (sha256: string, at: number, size = 1) => ({ sha256, at, size });
	const order = (rows: ReturnType<typeof row>[], failures = new Map<string, number>()) =>
		inSendingOrder(rows, failures, NOW).map(({ sha256 }) => sha256);

	it("is newest first, small before large within one item", () => {
		const rows = [row("old", NOW - 600_000), row("large", NOW, 9), row("small", NOW, 2)];
		expect(order(rows)).toEqual(["small", "large", "old"]);
	});

	it("lets nothing wait for more than a day behind what is new", () => {
		const rows = [row("new", NOW), row("older", NOW - 3 * DAY_MS), row("late", NOW - 2 * DAY_MS)];
		expect(order(rows)).toEqual(["older", "late", "new"]);
	});

	it("puts what failed behind", () => {
		const rows = [row("failed", NOW), row("old", NOW - DAY_MS / 2)];
		expect(order(rows, new Map([["failed", 1]]))).toEqual(["old", "failed"]);
	});
});
