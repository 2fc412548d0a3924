import { beforeEach, describe, expect, it, vi } from "vitest";
import { FakeServer } from "../testing/fake-server.ts";
import {
	connect,
	itemEdit,
	itemKey,
	newPhone,
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

	it("does the same for a server whose log is another, though it does not say so", async () => {
		const { app, boat } = await pairedPhone(server);
		await app.keep([itemEdit(1, { name: "Seacock" })]);
		await app.keep([itemEdit(2, { name: "Tank" })]);
		await app.syncNow();
		const log = server.boats.get(boat)?.log ?? [];
		const other = { ...log[0], id: "0190cccc-0000-7000-8000-000000000000", device: "x", seq: 1 };
		log.splice(1, 2, {
			...other,
			table: "item",
			key: itemKey(3),
			set: { name: "Pump" },
			cursor: 2,
		} as never);
		await app.syncNow();
		expect(
			server
				.log(boat)
				.map(({ set }) => set.name)
				.sort(),
		).toEqual(["Corncrake", "Pump", "Seacock", "Tank"]);
		expect([1, 2, 3].map((at) => app.item(itemKey(at))?.name)).toEqual(["Seacock", "Tank", "Pump"]);
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
