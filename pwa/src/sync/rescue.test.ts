import { execFileSync } from "node:child_process";
import { mkdtempSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { beforeEach, describe, expect, it, vi } from "vitest";
import { FakeServer } from "../testing/fake-server.ts";
import {
	connect,
	itemEdit,
	newPhone,
	pairedPhone,
	photoOf,
	secondPhone,
	startApp,
} from "../testing/phone.ts";
import type { UnsentFile } from "./rescue.ts";
import { crc32 } from "./zip.ts";

let server: FakeServer;

beforeEach(() => {
	vi.useRealTimers();
	server = new FakeServer();
	connect(server);
});

/** The parts of an archive of stored parts, by name, found through its directory. */
async function partsOf(file: Blob): Promise<Map<string, Uint8Array>> {
	const bytes = new Uint8Array(await file.arrayBuffer());
	const view = new DataView(bytes.buffer);
	const end = bytes.byteLength - 22;
	expect(view.getUint32(end, true)).toBe(0x06054b50);
	const parts = new Map<string, Uint8Array>();
	let at = view.getUint32(end + 16, true);
	for (let left = view.getUint16(end + 10, true); left > 0; left--) {
		expect(view.getUint32(at, true)).toBe(0x02014b50);
		const nameLength = view.getUint16(at + 28, true);
		const name = new TextDecoder().decode(bytes.subarray(at + 46, at + 46 + nameLength));
		const from = view.getUint32(at + 42, true) + 30 + nameLength;
		const part = bytes.subarray(from, from + view.getUint32(at + 24, true));
		expect(view.getUint32(at + 16, true)).toBe(crc32(part));
		parts.set(name, part);
		at += 46 + nameLength;
	}
	expect(at).toBe(end);
	return parts;
}

async function unsentIn(file: Blob): Promise<UnsentFile> {
	const parts = await partsOf(file);
	return JSON.parse(new TextDecoder().decode(parts.get("unsent.json")));
}

describe("the rescue file", () => {
	it("holds every unsent and refused change and photograph, without asking the server", async () => {
		const { app, boat } = await pairedPhone(server);
		server.refuse = () => "not this";
		await app.keep([itemEdit(1, { name: "refused" })]);
		await app.syncNow();
		server.before = () => {
			throw new TypeError("no signal");
		};
		await app.keep([itemEdit(2, { name: "waits, für später" })], [photoOf("one"), photoOf("two")]);
		const file = await app.rescueFile();
		const parts = await partsOf(file);
		const { device } = app.session.value;
		expect(await unsentIn(file)).toMatchObject({
			format: 1,
			server: "server-1",
			device,
			device_name: "phone",
			boats: [{ key: boat, name: boat }],
			changes: [
				{ boat, device, seq: 1, table: "boat" },
				{ boat, device, seq: 2, table: "item", set: { name: "refused" } },
				{ boat, device, seq: 3, table: "item", set: { name: "waits, für später" } },
			],
			photos: expect.arrayContaining([
				{
					sha256: photoOf("one").sha256,
					type: "image/jpeg",
					bytes: photoOf("one").bytes.byteLength,
				},
			]),
		});
		for (const { sha256, bytes } of [photoOf("one"), photoOf("two")]) {
			expect(parts.get(`photos/${sha256}`)).toEqual(new Uint8Array(bytes));
		}
		expect(parts.size).toBe(3);
	});

	it("is made by a phone that was never paired, and by one that was shut out", async () => {
		const alone = await startApp(newPhone());
		await alone.createBoat({ name: "Corncrake" });
		expect(await unsentIn(await alone.rescueFile())).toMatchObject({
			server: null,
			changes: [{ table: "boat", set: { name: "Corncrake" } }],
		});
		const { app } = await pairedPhone(server);
		server.paired.clear();
		await app.keep([itemEdit(1, { name: "Seacock" })]);
		await app.syncNow();
		expect(app.session.value.paired).toBe(false);
		expect((await unsentIn(await app.rescueFile())).changes).toHaveLength(2);
	});

	it("holds also what the server has confirmed, which may be lost with its disk since", async () => {
		const { app, boat } = await pairedPhone(server);
		const { sha256 } = photoOf("one");
		await app.keep(
			[
				itemEdit(1, { name: "Seacock" }),
				{ table: "photo", key: "p", set: { sha256, of: "item/i" } },
			],
			[photoOf("one")],
		);
		await app.syncNow();
		await app.keep([itemEdit(1, { name: "Seacock, seized" })]);
		const file = await app.rescueFile();
		const { epoch, changes, photos } = await unsentIn(file);
		expect(epoch).toBe("epoch-1");
		expect(changes.map(({ seq, table, base }) => [seq, table, base === 0])).toEqual([
			[1, "boat", true],
			[2, "item", true],
			[3, "photo", true],
			// What waits goes as it is sent; the epoch says which log its base counts in.
			[4, "item", false],
		]);
		expect(changes.every((change) => change.boat === boat)).toBe(true);
		expect(photos.map((one) => one.sha256)).toEqual([sha256]);
		expect((await partsOf(file)).has(`photos/${sha256}`)).toBe(true);
	});

	it("holds what others wrote too, but none of their photographs", async () => {
		const { app, boat } = await pairedPhone(server);
		const { sha256 } = photoOf("one");
		await app.keep([{ table: "photo", key: "p", set: { sha256, of: "item/i" } }], [photoOf("one")]);
		await app.syncNow();
		const other = await secondPhone(boat);
		await other.keepPhotoHere(sha256);
		expect(await other.photoBytes(sha256)).toBeDefined();
		await app.keep([itemEdit(1, { name: "Seacock" })]);
		await app.syncNow();
		await other.syncNow();
		const { changes, photos } = await unsentIn(await other.rescueFile());
		const { device } = app.session.value;
		// The first two came by a snapshot, so they are restated.
		expect(changes.map((one) => [one.table, one.device, one.restates !== undefined])).toEqual([
			["boat", device, true],
			["photo", device, true],
			["item", device, false],
		]);
		expect(photos).toEqual([]);
	});

	it("has the check sums that the form prescribes", () => {
		// The check value of CRC-32 that its catalogues give for these nine digits.
		expect(crc32(new TextEncoder().encode("123456789"))).toBe(0xcbf43926);
	});

	it("is opened by another program", async () => {
		const { app } = await pairedPhone(server);
		await app.keep([], [photoOf("one")]);
		const path = join(mkdtempSync(join(tmpdir(), "rescue-")), "rescue.zip");
		writeFileSync(path, new Uint8Array(await (await app.rescueFile()).arrayBuffer()));
		const said = execFileSync("python3", ["-m", "zipfile", "-t", path], { encoding: "utf8" });
		expect(said).toBe("Done testing\n");
	});
});
