import { beforeEach, describe, expect, it, vi } from "vitest";
import { itemEdit, itemKey, newPhone, startApp } from "../testing/phone.ts";

beforeEach(() => vi.useRealTimers());

const PUMP = ["item", itemKey(1)] as const;
const NEVER_THERE = ["item", itemKey(9)] as const;

/** Two pages of one phone on the same boat; the second has not opened it yet. */
async function twoPages() {
	const phone = newPhone();
	const first = await startApp(phone);
	const boat = await first.createBoat({ name: "Corncrake" });
	await first.keep([itemEdit(2, { name: "hose" })]);
	const second = await startApp(phone);
	const memory = await import("./memory.ts");
	return { first, second, memory, boat };
}

describe("a page that reads the boat while another page writes", () => {
	it("shows what was kept after its reading had begun and told before it had ended", async () => {
		const { first, second, memory, boat } = await twoPages();
		// The reading comes first in the database's queue, so it can't see what is kept after it.
		const opening = memory.show(boat);
		const keeping = first.keep([itemEdit(1, { name: "pump" })]);
		void memory.rereadRows([PUMP]);
		await Promise.all([opening, keeping]);
		expect(second.item(itemKey(1))?.name).toBe("pump");
		expect(second.item(itemKey(2))?.name).toBe("hose");
	});

	it("shows no longer what went into the bin meanwhile", async () => {
		const { first, second, memory, boat } = await twoPages();
		const opening = memory.show(boat);
		const keeping = first.keep([itemEdit(2, { binned: true })]);
		void memory.rereadRows([["item", itemKey(2)]]);
		await Promise.all([opening, keeping]);
		expect(second.item(itemKey(2))).toBeUndefined();
		expect(memory.binnedNames()).toEqual([{ table: "item", key: itemKey(2) }]);
	});

	it("waits for the last of several readings, each of which would show the older state", async () => {
		const { first, second, memory, boat } = await twoPages();
		await memory.show(boat);
		const openings = [memory.show(boat), memory.show(boat)];
		const keeping = first.keep([itemEdit(1, { name: "pump" })]);
		void memory.rereadRows([PUMP]);
		await Promise.all([...openings, keeping]);
		expect(second.item(itemKey(1))?.name).toBe("pump");
	});

	it("keeps what it showed itself while it was read again", async () => {
		const { second, memory, boat } = await twoPages();
		await memory.show(boat);
		const opening = memory.show(boat);
		await Promise.all([second.keep([itemEdit(1, { name: "pump" })]), opening]);
		expect(second.item(itemKey(1))?.name).toBe("pump");
	});

	it("is not troubled by a name of which nothing is there", async () => {
		const { second, memory, boat } = await twoPages();
		const opening = memory.show(boat);
		void memory.rereadRows([NEVER_THERE]);
		await opening;
		expect(second.item(itemKey(9))).toBeUndefined();
		expect(second.item(itemKey(2))?.name).toBe("hose");
	});
});
