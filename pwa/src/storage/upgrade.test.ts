import { IDBObjectStore } from "fake-indexeddb";
import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { FakeServer } from "../testing/fake-server.ts";
import { connect, itemKey, newPhone, photoOf, startApp } from "../testing/phone.ts";

const BOAT = "0190bbbb-0000-7000-8000-000000000000";
const DEVICE = "0190dddd-0000-7000-8000-000000000000";
const add = IDBObjectStore.prototype.put;

beforeEach(() => {
	vi.useRealTimers();
});

afterEach(() => {
	IDBObjectStore.prototype.put = add;
});

/** A change as version 1 kept it. */
function changeOf1(seq: number, table: string, key: string, set: Record<string, string>) {
	const stamp = `0000000000${String(seq).padStart(2, "0")}0000`;
	return { id: `change-${seq}`, device: DEVICE, seq, stamp, table, key, set, base: 0, boat: BOAT };
}

/** A phone as version 1 left it: a boat, an item and a photograph, none of it sent. */
async function phoneOf1(): Promise<IDBFactory> {
	const phone = newPhone();
	const db = await new Promise<IDBDatabase>((resolve, reject) => {
		const opening = phone.open("shedtally", 1);
		opening.onupgradeneeded = () => createStoresOf1(opening.result);
		opening.onsuccess = () => resolve(opening.result);
		opening.onerror = () => reject(opening.error);
	});
	const tx = db.transaction([...db.objectStoreNames], "readwrite");
	const changes = [
		changeOf1(1, "boat", BOAT, { name: "Corncrake" }),
		changeOf1(2, "item", itemKey(1), { name: "Seacock" }),
	];
	for (const change of changes) {
		const { id, seq, device, stamp, table, key, set, boat } = change;
		tx.objectStore("change").put(change);
		tx.objectStore("outbox").put({ id, boat, seq, at: seq });
		const versions = { name: [stamp, device, id] };
		tx.objectStore("record").put({ boat, table, key, values: set, versions });
	}
	const { sha256, type, bytes } = photoOf("one");
	tx.objectStore("photo").put({ sha256, type, bytes, at: 5 });
	tx.objectStore("photo_outbox").put({ sha256, size: bytes.byteLength, at: 5 });
	for (const [name, value] of Object.entries({ device: DEVICE, seq: 2, boat: BOAT })) {
		tx.objectStore("meta").put(value, name);
	}
	await new Promise((resolve) => {
		tx.oncomplete = resolve;
	});
	db.close();
	return phone;
}

function createStoresOf1(db: IDBDatabase): void {
	db.createObjectStore("meta");
	db.createObjectStore("record", { keyPath: ["boat", "table", "key"] });
	const change = db.createObjectStore("change", { keyPath: "id" });
	change.createIndex("record", ["boat", "table", "key"]);
	const outbox = db.createObjectStore("outbox", { keyPath: "id" });
	outbox.createIndex("order", ["boat", "seq"]);
	db.createObjectStore("rejected", { keyPath: "id" });
	db.createObjectStore("photo", { keyPath: "sha256" });
	db.createObjectStore("thumbnail", { keyPath: "sha256" });
	const photos = db.createObjectStore("photo_outbox", { keyPath: "sha256" });
	photos.createIndex("at", "at");
	db.createObjectStore("list", { keyPath: ["boat", "name"] });
	db.createObjectStore("tag", { keyPath: "code" });
}

describe("a phone of version 1", () => {
	it("still has all that it had not sent, and sends it", async () => {
		const server = new FakeServer();
		connect(server);
		const app = await startApp(await phoneOf1());
		expect(app.item(itemKey(1))?.name).toBe("Seacock");
		expect(app.syncState.value).toMatchObject({
			unsentChanges: 2,
			unsentPhotos: 1,
			oldestUnsentAt: 1,
		});
		await app.pair("RIGHT", "Phone A");
		await app.syncNow();
		expect(server.log(BOAT).map(({ id }) => id)).toEqual(["change-1", "change-2"]);
		expect(server.photos.get(photoOf("one").sha256)).toEqual(photoOf("one").bytes);
		expect(app.syncState.value).toMatchObject({ unsentChanges: 0, unsentPhotos: 0, problem: null });
	});

	it("keeps its old database whole when the upgrade fails", async () => {
		const phone = await phoneOf1();
		IDBObjectStore.prototype.put = () => {
			throw new DOMException("no room", "QuotaExceededError");
		};
		await expect(startApp(phone)).rejects.toMatchObject({
			name: expect.stringMatching(/^Storage/),
		});
		IDBObjectStore.prototype.put = add;
		const app = await startApp(phone);
		expect(app.syncState.value).toMatchObject({ unsentChanges: 2, unsentPhotos: 1 });
	});
});
