import { IDBFactory, IDBObjectStore } from "fake-indexeddb";
import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { FakeServer } from "../testing/fake-server.ts";
import {
	connect,
	itemEdit,
	itemKey,
	newPhone,
	pairedPhone,
	photoOf,
	startApp,
	until,
} from "../testing/phone.ts";

const put = IDBObjectStore.prototype.put;
const open = IDBFactory.prototype.open;

/** Let writing to one store fail as a full phone does; `times` 0 is always. */
function fillUp(store: string, times = 0): void {
	let failed = 0;
	IDBObjectStore.prototype.put = function (
		this: IDBObjectStore,
		...given: [unknown, IDBValidKey?]
	) {
		if (this.name === store && (times === 0 || failed < times)) {
			failed += 1;
			throw new DOMException("no room", "QuotaExceededError");
		}
		return put.apply(this, given);
	} as typeof put;
}

let server: FakeServer;

beforeEach(() => {
	server = new FakeServer();
	connect(server);
});

afterEach(() => {
	IDBObjectStore.prototype.put = put;
	IDBFactory.prototype.open = open;
	vi.useRealTimers();
});

describe("keeping", () => {
	it("is there after the app was closed, and waits for the server", async () => {
		const phone = newPhone();
		const app = await startApp(phone);
		await app.createBoat({ name: "Corncrake" });
		await app.keep([itemEdit(1, { name: "Seacock" })], [photoOf("one")]);
		const again = await startApp(phone);
		expect(again.item(itemKey(1))?.name).toBe("Seacock");
		expect(again.syncState.value).toMatchObject({ unsentChanges: 2, unsentPhotos: 1 });
		expect(await again.photoBytes(photoOf("one").sha256)).toMatchObject({ type: "image/jpeg" });
	});

	it("merges into what the record already holds", async () => {
		const app = await startApp(newPhone());
		await app.createBoat({ name: "Corncrake" });
		await app.keep([itemEdit(1, { name: "Seacock", condition: "worn" })]);
		await app.keep([itemEdit(1, { condition: "failed" })]);
		expect(app.item(itemKey(1))).toMatchObject({
			name: "Seacock",
			condition: "failed",
			note: null,
		});
	});

	it("leaves a binned record out, and shows it again when edited later", async () => {
		const app = await startApp(newPhone());
		await app.createBoat({ name: "Corncrake" });
		await app.keep([itemEdit(1, { name: "Seacock" })]);
		await app.keep([itemEdit(1, { binned: true })]);
		expect(app.item(itemKey(1))).toBeUndefined();
		await app.keep([itemEdit(1, { note: "found again" })]);
		expect(app.item(itemKey(1))?.note).toBe("found again");
	});

	it("writes nothing at all when the phone is full", async () => {
		const phone = newPhone();
		const app = await startApp(phone);
		await app.createBoat({ name: "Corncrake" });
		fillUp("photo");
		const kept = app.keep([itemEdit(1, { name: "Seacock" })], [photoOf("one")]);
		await expect(kept).rejects.toThrow(app.StorageFull);
		IDBObjectStore.prototype.put = put;
		const again = await startApp(phone);
		expect(again.item(itemKey(1))).toBeUndefined();
		expect(again.syncState.value).toMatchObject({ unsentChanges: 1, unsentPhotos: 0 });
		await again.keep([itemEdit(1, { name: "Seacock" })]);
		const changes = await again.history("item", itemKey(1));
		expect(changes.map(({ seq }) => seq)).toEqual([2]);
	});

	it("opens on a phone that is full, and shows what was kept", async () => {
		const phone = newPhone();
		const app = await startApp(phone);
		await app.createBoat({ name: "Corncrake" });
		await app.keep([itemEdit(1, { name: "Seacock" })]);
		fillUp("meta");
		expect((await startApp(phone)).item(itemKey(1))?.name).toBe("Seacock");
	});

	it("also writes nothing when the record, and not the photograph, finds no room", async () => {
		const app = await startApp(newPhone());
		await app.createBoat({ name: "Corncrake" });
		fillUp("outbox");
		const kept = app.keep([itemEdit(1, { name: "Seacock" })], [photoOf("one")]);
		await expect(kept).rejects.toThrow(app.StorageFull);
		expect(await app.photoBytes(photoOf("one").sha256)).toBeUndefined();
		expect(app.item(itemKey(1))).toBeUndefined();
	});

	it("makes room by dropping photographs that the server has, never others", async () => {
		const { app } = await pairedPhone(server);
		await app.keep([itemEdit(1, { name: "Seacock" })], [photoOf("sent")]);
		await app.syncNow();
		await app.keep([itemEdit(2, { name: "Tank" })], [photoOf("waits")]);
		fillUp("photo", 1);
		await app.keep([itemEdit(3, { name: "Pump" })], [photoOf("new")]);
		expect(app.item(itemKey(3))?.name).toBe("Pump");
		expect(await app.photoBytes(photoOf("sent").sha256)).toBeUndefined();
		expect(await app.photoBytes(photoOf("waits").sha256)).toBeDefined();
		expect(await app.photoBytes(photoOf("new").sha256)).toBeDefined();
		expect(await app.withoutThumbnail([photoOf("sent").sha256])).toEqual([]);
	});

	it("refuses a value that its field can't hold, before anything is written", async () => {
		const app = await startApp(newPhone());
		await app.createBoat({ name: "Corncrake" });
		const kept = app.keep([itemEdit(1, { name: "Seacock" }), itemEdit(2, { mass_kg: -4 })]);
		await expect(kept).rejects.toThrow("mass_kg must lie from 0 to 100000 kg");
		expect(app.item(itemKey(1))).toBeUndefined();
	});

	it("opens the database again when the phone has dropped the connection", async () => {
		const app = await startApp(newPhone());
		await app.createBoat({ name: "Corncrake" });
		let dropped = 0;
		IDBObjectStore.prototype.put = function (
			this: IDBObjectStore,
			...given: [unknown, IDBValidKey?]
		) {
			dropped += 1;
			if (dropped === 1) throw new DOMException("connection is closing", "InvalidStateError");
			return put.apply(this, given);
		} as typeof put;
		await app.keep([itemEdit(1, { name: "Seacock" })]);
		expect(app.item(itemKey(1))?.name).toBe("Seacock");
		expect(dropped).toBeGreaterThan(1);
		await app.recount();
		expect(app.syncState.value.unsentChanges).toBe(2);
	});

	it("says that the storage is lost when it does not come back", async () => {
		const app = await startApp(newPhone());
		await app.createBoat({ name: "Corncrake" });
		IDBObjectStore.prototype.put = () => {
			throw new DOMException("connection is closing", "InvalidStateError");
		};
		await expect(app.keep([itemEdit(1, { name: "Seacock" })])).rejects.toThrow(app.StorageLost);
	});

	it("gives up on a database that never opens, instead of waiting for ever", async () => {
		vi.useFakeTimers({ toFake: ["setTimeout", "clearTimeout"] });
		IDBFactory.prototype.open = () => ({ addEventListener() {} }) as unknown as IDBOpenDBRequest;
		const started = startApp(newPhone()).then(
			() => "started",
			(error: Error) => error.name,
		);
		await vi.advanceTimersByTimeAsync(10_000);
		await until(async () => {
			await vi.advanceTimersByTimeAsync(10_000);
			expect(await Promise.race([started, Promise.resolve("waits")])).toBe("StorageLost");
		});
	});

	it("gives two open pages of one phone different numbers", async () => {
		const phone = newPhone();
		const first = await startApp(phone);
		const boat = await first.createBoat({ name: "Corncrake" });
		const second = await startApp(phone);
		await second.chooseBoat(boat);
		await Promise.all(
			[1, 2, 3, 4].flatMap((at) => [
				first.keep([itemEdit(at, { name: `first ${at}` })]),
				second.keep([itemEdit(at, { note: `second ${at}` })]),
			]),
		);
		const changes = await first.readStores(["change"], (tx) => tx.objectStore("change").getAll());
		expect(changes.map(({ seq }) => seq).sort((a, b) => a - b)).toEqual([
			1, 2, 3, 4, 5, 6, 7, 8, 9,
		]);
		expect(new Set(changes.map(({ stamp }) => stamp)).size).toBe(9);
	});

	it("numbers on when the phone's clock is set back a day", async () => {
		const app = await startApp(newPhone());
		await app.createBoat({ name: "Corncrake" });
		await app.keep([itemEdit(1, { condition: "worn" })]);
		vi.useFakeTimers({ toFake: ["Date"], now: Date.now() - 86_400_000 });
		await app.keep([itemEdit(1, { condition: "failed" })]);
		expect(app.item(itemKey(1))?.condition).toBe("failed");
	});
});
