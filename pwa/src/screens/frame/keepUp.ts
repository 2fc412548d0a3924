/** What the screens need to know of the server beyond the records: open clashes, names of phones. */
import { computed, effect } from "@preact/signals";
import { StorageFault } from "../../storage/boat.ts";
import { boat } from "../../storage/memory.ts";
import { loadClashes, refreshClashes } from "../../sync/clashes.ts";
import { loadPhones, refreshPhones } from "../../sync/devices.ts";
import { SyncTrouble } from "../../sync/problem.ts";
import { syncState } from "../../sync/state.ts";

/** Names change seldom; a phone that is new to this one is asked for no later than this. */
const PHONES_EVERY_MS = 5 * 60_000;

/** Show what was heard last, and ask again after each complete round. Returns how to stop. */
export function keepUpWithServer(): () => void {
	const roundAt = computed(() => syncState.value.lastSyncedAt);
	let phonesAt = 0;
	void quietly(loadPhones);
	const stopBoat = effect(() => {
		if (boat.key.value !== null) void quietly(loadClashes);
	});
	const stopRounds = effect(() => {
		const at = roundAt.value;
		if (at === null || Date.now() - at > PHONES_EVERY_MS) return;
		void quietly(refreshClashes);
		if (at - phonesAt < PHONES_EVERY_MS) return;
		phonesAt = at;
		void quietly(refreshPhones);
	});
	return () => {
		stopBoat();
		stopRounds();
	};
}

/** Out of reach of the server there is nothing new to show, and nothing is lost. */
async function quietly(work: () => Promise<void>): Promise<void> {
	try {
		await work();
	} catch (error) {
		if (!(error instanceof SyncTrouble || error instanceof StorageFault)) throw error;
	}
}
