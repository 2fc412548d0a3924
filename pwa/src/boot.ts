/** What must be there before the first screen: the phone's database and what was kept in it. */
import { loadBoat } from "./storage/boat.ts";
import { noticeLoss } from "./storage/danger.ts";
import { newLog } from "./storage/newlog.ts";
import { loadRules } from "./storage/rules.ts";
import { loadSettings } from "./storage/settings.ts";
import { followBoat, loadLists } from "./sync/lists.ts";
import { startSchedule } from "./sync/schedule.ts";
import { loadSession } from "./sync/session.ts";
import { loadSyncState } from "./sync/state.ts";
import { loadReserve } from "./sync/tags.ts";
import { watchStorage } from "./sync/watch.ts";

/** Open the database and load all that the screens show. Throws StorageLost. */
export async function openAll(): Promise<void> {
	// Now, not in the middle of work: what a kill costs while the old log ends, nothing can ward off.
	void newLog();
	await noticeLoss();
	await loadSession();
	await Promise.all([loadBoat(), loadRules(), loadReserve(), loadSyncState(), loadSettings()]);
	await loadLists();
}

/** Begin what goes on by itself: sending, receiving, lists of the chosen boat. */
export function startAll(): void {
	followBoat();
	startSchedule();
	watchStorage();
}
