import { beforeEach, describe, expect, it, vi } from "vitest";
import { FakeServer } from "../testing/fake-server.ts";
import {
	type App,
	connect,
	itemEdit,
	newPhone,
	photoOf,
	startApp,
	until,
} from "../testing/phone.ts";
import type { Unsent } from "./danger.ts";

const MB = 1_000_000;
const NOW = Date.parse("2026-05-04T12:00:00Z");
const NOTHING: Unsent = { unsentChanges: 0, unsentPhotos: 0, oldestUnsentAt: null };
const SOMETHING: Unsent = { unsentChanges: 1, unsentPhotos: 2, oldestUnsentAt: NOW - 1_000 };

/** A browser with this much room, in MB. */
function browser(
	usedMb: number,
	freeMb: number,
	{ persisted = true, standalone = false } = {},
): void {
	const estimate = { usage: usedMb * MB, quota: (usedMb + freeMb) * MB };
	vi.stubGlobal("navigator", {
		standalone,
		storage: {
			estimate: async () => estimate,
			persisted: async () => persisted,
			persist: async () => persisted,
		},
	});
}

function memoryOf(): Storage {
	const held = new Map<string, string>();
	return {
		getItem: (name: string) => held.get(name) ?? null,
		setItem: (name: string, value: string) => void held.set(name, value),
	} as unknown as Storage;
}

beforeEach(() => {
	vi.unstubAllGlobals();
	vi.useRealTimers();
	connect(new FakeServer());
});

async function levelIn(app: App, unsent = NOTHING): Promise<string> {
	await app.measureDanger(unsent, NOW);
	return app.storageWarning.value.level;
}

describe("the warning of storage", () => {
	it.each([
		["plenty of room", 100, 900, "none"],
		["four fifths used", 2_000, 500, "low"],
		["just under four fifths", 1_990, 510, "none"],
		["under 200 MB free", 10, 199, "low"],
	])("with %s", async (_name, used, free, level) => {
		browser(used, free);
		expect(await levelIn(await startApp(newPhone()))).toBe(level);
	});

	it("is loudest for unsent work in a browser that may clear it", async () => {
		const app = await startApp(newPhone());
		browser(100, 900, { persisted: false });
		expect(await levelIn(app)).toBe("none");
		expect(await levelIn(app, SOMETHING)).toBe("evictable-with-unsent");
		browser(100, 900, { persisted: false, standalone: true });
		expect(await levelIn(app, SOMETHING)).toBe("none");
		vi.stubGlobal("navigator", {});
		expect(await levelIn(app, SOMETHING)).toBe("evictable-with-unsent");
	});

	it("tells of work that waits for more than a day", async () => {
		const app = await startApp(newPhone());
		browser(100, 900);
		const day = 86_400_000;
		await app.measureDanger({ ...SOMETHING, oldestUnsentAt: NOW - day }, NOW);
		expect(app.storageWarning.value.unsentOverADay).toBe(false);
		await app.measureDanger({ ...SOMETHING, oldestUnsentAt: NOW - day - 1 }, NOW);
		expect(app.storageWarning.value.unsentOverADay).toBe(true);
	});

	it("asks the browser once to keep the storage, and says what it answered", async () => {
		const app = await startApp(newPhone());
		browser(100, 900);
		const persist = vi.spyOn(navigator.storage, "persist");
		await app.askOnce();
		await app.askOnce();
		expect(persist).toHaveBeenCalledOnce();
		expect(app.syncState.value.persisted).toBe(true);
	});
});

describe("a browser that cleared the phone's database", () => {
	it("is noticed, with what had waited, until the person has read it", async () => {
		vi.stubGlobal("localStorage", memoryOf());
		const app = await startApp(newPhone());
		expect(app.lostStorage.value).toBeNull();
		await app.createBoat({ name: "Corncrake" });
		await app.keep([itemEdit(1, { name: "Seacock" })], [photoOf("one")]);
		await app.recount();
		const cleared = newPhone();
		const after = await startApp(cleared);
		expect(after.lostStorage.value).toMatchObject({ unsentChanges: 2, unsentPhotos: 1 });
		const reloaded = await startApp(cleared);
		expect(reloaded.lostStorage.value).toMatchObject({ unsentChanges: 2, unsentPhotos: 1 });
		reloaded.acknowledgeLoss();
		await until(async () => {
			expect((await startApp(cleared)).lostStorage.value).toBeNull();
		});
	});

	it("is also noticed by the cookie alone", async () => {
		const jar = { cookie: "" };
		vi.stubGlobal("document", jar);
		const app = await startApp(newPhone());
		await app.createBoat({ name: "Corncrake" });
		await app.recount();
		jar.cookie = `other=1; ${jar.cookie.split(";")[0]}`;
		const after = await startApp(newPhone());
		expect(after.lostStorage.value).toMatchObject({ unsentChanges: 1, unsentPhotos: 0 });
	});

	it("is not suspected at the first start, nor while the database is there", async () => {
		vi.stubGlobal("localStorage", memoryOf());
		const phone = newPhone();
		expect((await startApp(phone)).lostStorage.value).toBeNull();
		const app = await startApp(phone);
		await app.createBoat({ name: "Corncrake" });
		await app.recount();
		expect((await startApp(phone)).lostStorage.value).toBeNull();
	});
});
