import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { FakeServer } from "../testing/fake-server.ts";
import { type App, connect, itemEdit, itemKey, pairedPhone } from "../testing/phone.ts";

type Handler = (event: { persisted: boolean }) => void;

let app: App;
let handlers: Map<string, Handler>;

beforeEach(async () => {
	vi.useRealTimers();
	const server = new FakeServer();
	connect(server);
	handlers = new Map();
	vi.stubGlobal("addEventListener", (name: string, handler: Handler) =>
		handlers.set(name, handler),
	);
	({ app } = await pairedPhone(server));
	app.freeBeforeSleep();
});

afterEach(() => vi.unstubAllGlobals());

/** Another page of the app writes; resolves when it could. */
function writeElsewhere(): Promise<string> {
	return new Promise((resolve) => {
		const opening = indexedDB.open("shedtally");
		opening.onsuccess = () => {
			const tx = opening.result.transaction(["outbox", "rejected"], "readwrite");
			tx.objectStore("rejected").count();
			tx.oncomplete = () => {
				opening.result.close();
				resolve("written");
			};
		};
	});
}

/** Hold a transaction open for as long as the page lives, as a slow phone does. */
function readForEver(): Promise<void> {
	return new Promise((begun) => {
		const reading = app.readStores(["outbox"], async (tx) => {
			for (;;) {
				await tx.objectStore("outbox").count();
				begun();
			}
		});
		reading.catch(() => {});
	});
}

/** A while in which nothing of what is looked at may happen. */
function aWhile(): Promise<string> {
	return new Promise((resolve) => setTimeout(resolve, 300, "waits"));
}

describe("a page that is put to sleep for the way back", () => {
	it("leaves no lock for the page that comes after it", async () => {
		await readForEver();
		const writing = writeElsewhere();
		expect(await Promise.race([writing, aWhile()])).toBe("waits");
		handlers.get("pagehide")?.({ persisted: true });
		expect(await writing).toBe("written");
	});

	it("does again what was undone once it wakes, and once only", async () => {
		const keeping = app.keep([itemEdit(1, { name: "Seacock" })]);
		const rejected = vi.fn();
		keeping.catch(rejected);
		await Promise.resolve();
		handlers.get("pagehide")?.({ persisted: true });
		let kept = false;
		void keeping.then(() => {
			kept = true;
		});
		await aWhile();
		expect([kept, rejected.mock.calls.length]).toEqual([false, 0]);
		handlers.get("pageshow")?.({ persisted: true });
		await keeping;
		expect(app.item(itemKey(1))?.name).toBe("Seacock");
		await app.recount();
		expect(app.syncState.value.unsentChanges).toBe(1);
	});

	it("goes on where the page is not kept, as the browser ends it anyway", async () => {
		const keeping = app.keep([itemEdit(1, { name: "Seacock" })]);
		handlers.get("pagehide")?.({ persisted: false });
		await keeping;
		expect(app.item(itemKey(1))?.name).toBe("Seacock");
	});
});
