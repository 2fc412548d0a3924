import { IDBDatabase, IDBFactory, IDBOpenDBRequest } from "fake-indexeddb";
import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { FakeServer } from "../testing/fake-server.ts";
import { type App, connect, startApp } from "../testing/phone.ts";

const ON_ANDROID =
	"Mozilla/5.0 (Linux; Android 10; K) AppleWebKit/537.36 (KHTML, like Gecko) Chrome/156.0.0.0 Mobile Safari/537.36";
const CHROME_ON_IOS =
	"Mozilla/5.0 (iPhone; CPU iPhone OS 18_0 like Mac OS X) AppleWebKit/605.1.15 (KHTML, like Gecko) CriOS/156.0.0.0 Mobile/15E148 Safari/604.1";
const FIREFOX = "Mozilla/5.0 (Android 15; Mobile; rv:150.0) Gecko/150.0 Firefox/150.0";
const transaction = IDBDatabase.prototype.transaction;

/** What the browser's storage did, in order. */
let done: string[];

/** Storage that says what is done to it, and may never answer to a deletion. */
class Watched extends IDBFactory {
	readonly answers: boolean;

	constructor(answers = true) {
		super();
		this.answers = answers;
	}

	override deleteDatabase(name: string) {
		if (!this.answers) return Reflect.construct(IDBOpenDBRequest, []);
		const deleting = super.deleteDatabase(name);
		deleting.addEventListener("success", () => done.push("an empty database is gone"));
		return deleting;
	}
}

beforeEach(() => {
	vi.useRealTimers();
	connect(new FakeServer());
	done = [];
	IDBDatabase.prototype.transaction = function (stores, mode, options) {
		if (mode === "readwrite") done.push("a write");
		return transaction.call(this, stores, mode, options);
	};
});

afterEach(() => {
	IDBDatabase.prototype.transaction = transaction;
	vi.unstubAllGlobals();
});

async function keepIn(userAgent: string, phone = new Watched()): Promise<App> {
	vi.stubGlobal("navigator", { userAgent });
	const app = await startApp(phone);
	await app.createBoat({ name: "Corncrake" });
	return app;
}

describe("a log that may end in half an entry", () => {
	it("is ended before the first write, and not again in the same page", async () => {
		const app = await keepIn(ON_ANDROID);
		await app.createBoat({ name: "Corncrake" });
		expect(done[0]).toBe("an empty database is gone");
		expect(done.slice(1)).toEqual(done.slice(1).map(() => "a write"));
		expect(done.length).toBeGreaterThan(2);
	});

	it("keeps nobody from working where the browser does not answer", async () => {
		await keepIn(ON_ANDROID, new Watched(false));
		expect(done).toContain("a write");
	});

	it.each([FIREFOX, CHROME_ON_IOS])("is no concern of %s", async (userAgent) => {
		await keepIn(userAgent);
		expect(new Set(done)).toEqual(new Set(["a write"]));
	});
});
