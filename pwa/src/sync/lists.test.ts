import { beforeEach, describe, expect, it, vi } from "vitest";
import { FakeServer } from "../testing/fake-server.ts";
import { pairedPhone, startApp } from "../testing/phone.ts";

beforeEach(() => {
	vi.useRealTimers();
});

async function keptList(phone: IDBFactory, change?: (row: { list: unknown }) => void) {
	const db = await new Promise<IDBDatabase>((resolve) => {
		const opening = phone.open("shedtally");
		opening.onsuccess = () => resolve(opening.result);
	});
	const store = db.transaction("list", "readwrite").objectStore("list");
	const row = await new Promise<{ name: string; list: unknown }>((resolve) => {
		const reading = store.openCursor();
		reading.onsuccess = () => {
			const { result } = reading;
			if (result?.value.name !== "left") return result?.continue();
			if (change) {
				change(result.value);
				result.update(result.value);
			}
			resolve(result.value);
		};
	});
	db.close();
	return row;
}

describe("the kept lists", () => {
	it("are not opened before a screen wants one", async () => {
		const { phone, app } = await pairedPhone(new FakeServer());
		expect((await keptList(phone)).list).toEqual(expect.any(String));
		const parse = vi.spyOn(JSON, "parse");
		await app.loadLists();
		const { left } = app.lists.value;
		expect([left?.cursor, parse.mock.calls.length]).toEqual([1, 0]);
		expect(left?.list).toEqual({ total: 1 });
		expect(left?.list).toBe(left?.list);
		expect(parse).toHaveBeenCalledTimes(1);
		parse.mockRestore();
	});

	it("are read as an earlier version of the app kept them", async () => {
		const { phone } = await pairedPhone(new FakeServer());
		await keptList(phone, (row) => {
			row.list = { total: 7 };
		});
		const app = await startApp(phone);
		expect(app.lists.value.left?.list).toEqual({ total: 7 });
	});

	it("are read again when another boat is chosen, and only then", async () => {
		const { phone, boat } = await pairedPhone(new FakeServer());
		const app = await startApp(phone);
		app.followBoat();
		const { left } = app.lists.value;
		await app.chooseBoat(boat);
		expect(app.lists.value.left).toBe(left);
		await app.createBoat({ name: "Dunlin" });
		await vi.waitFor(() => expect(app.lists.value.left).toBeUndefined());
	});
});
