/** A phone for tests: its own database, and the app started on it as often as wanted. */
import "fake-indexeddb/auto";
import { IDBFactory } from "fake-indexeddb";
import { vi } from "vitest";
import type { Edit } from "../domain/change.ts";
import type { KeptPhoto } from "../storage/photos.ts";
import type { FakeServer } from "./fake-server.ts";

export type App = Awaited<ReturnType<typeof startApp>>;

const ITEM_KEY = "0190aaaa-0000-7000-8000-00000000000";

/** Make `server` what `fetch` talks to. */
export function connect(server: Pick<FakeServer, "fetch">): void {
	vi.stubGlobal("fetch", server.fetch);
}

/** A phone's storage, empty. */
export function newPhone(): IDBFactory {
	return new IDBFactory();
}

/**
 * Start the app on a phone: all its modules afresh, as after a reload.
 *
 * Timers of the schedule are not started; tests call `syncNow`.
 */
export async function startApp(phone: IDBFactory) {
	vi.resetModules();
	vi.stubGlobal("indexedDB", phone);
	// One process plays several phones, which must not hear each other.
	vi.stubGlobal("BroadcastChannel", undefined);
	const { openAll } = await import("../boot.ts");
	const storage = await import("../storage/boat.ts");
	const db = await import("../storage/db.ts");
	const photos = await import("../storage/photos.ts");
	const { syncState, syncNow, discardRejected, sendAgain, recount } = await import(
		"../sync/state.ts"
	);
	const session = await import("../sync/session.ts");
	const tags = await import("../sync/tags.ts");
	const { followBoat, lists, loadLists } = await import("../sync/lists.ts");
	const { rules } = await import("../storage/rules.ts");
	const { binned, restore } = await import("../storage/bin.ts");
	const { undoOf, undoChange } = await import("../storage/history.ts");
	const { historyOf } = await import("../sync/history.ts");
	const settings = await import("../storage/settings.ts");
	const danger = await import("../storage/danger.ts");
	const rescue = await import("../sync/rescue.ts");
	const { askOnce } = await import("../sync/watch.ts");
	const { sendPhotosAnyway } = await import("../sync/photos.ts");
	const { keepPhotoHere } = await import("../sync/pictures.ts");
	const { trimPhotos } = await import("../storage/budget.ts");
	await openAll();
	return {
		...storage,
		...db,
		...photos,
		...session,
		...tags,
		syncState,
		syncNow,
		discardRejected,
		sendAgain,
		recount,
		lists,
		loadLists,
		followBoat,
		rules,
		binned,
		restore,
		undoOf,
		undoChange,
		historyOf,
		...settings,
		...danger,
		...rescue,
		askOnce,
		sendPhotosAnyway,
		keepPhotoHere,
		trimPhotos,
		item: (key: string) => storage.boat.table("item").value.get(key),
	};
}

/** A phone that is paired, with a boat made on it and sent. */
export async function pairedPhone(
	server: FakeServer,
): Promise<{ phone: IDBFactory; app: App; boat: string }> {
	connect(server);
	const phone = newPhone();
	const app = await startApp(phone);
	await app.pair("RIGHT", "Phone A");
	await app.syncNow();
	const boat = await app.createBoat({ name: "Corncrake" });
	await app.syncNow();
	return { phone, app, boat };
}

/** Another phone, paired, that has received the boat. */
export async function secondPhone(boat: string): Promise<App> {
	const app = await startApp(newPhone());
	await app.pair("RIGHT", "Phone B");
	await app.chooseBoat(boat);
	await app.syncNow();
	return app;
}

/** An edit of the `at`-th item. */
export function itemEdit(at: number, set: Extract<Edit, { table: "item" }>["set"]): Edit {
	return { table: "item", key: ITEM_KEY + String(at), set };
}

export function itemKey(at: number): string {
	return ITEM_KEY + String(at);
}

/** A photograph of a few bytes, and a small copy of fewer; `name` makes it differ from others. */
export function photoOf(name: string): KeptPhoto {
	const bytes = new TextEncoder().encode(`photograph ${name}`).buffer as ArrayBuffer;
	const thumbnail = new TextEncoder().encode(`small ${name}`).buffer as ArrayBuffer;
	const sha256 = Array.from(name.padEnd(32, "_"), (sign) => sign.charCodeAt(0).toString(16)).join(
		"",
	);
	return { sha256, type: "image/jpeg", bytes, thumbnail, width: 4, height: 3 };
}

/** Wait until `check` no longer throws; for as long as a busy machine may need. */
export function until(check: () => void | Promise<void>): Promise<void> {
	return vi.waitFor(check, { timeout: 50_000, interval: 5 });
}
