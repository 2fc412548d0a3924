/** Keeps an eye on the phone's storage: asks the browser to keep it, and warns in time. */
import { computed } from "@preact/signals";
import { measureDanger } from "../storage/danger.ts";
import { onKept } from "../storage/keep.ts";
import { askToPersist } from "../storage/quota.ts";
import { syncState, tell } from "./state.ts";

const EVERY_MS = 60_000;
/** The browser is not asked more often than this, however fast the person works. */
const AT_MOST_EVERY_MS = 5_000;

let asked = false;

/** Begin to watch; once, after the database is open. */
export function watchStorage(): void {
	onKept(() => void askOnce());
	const unsent = computed(() => syncState.value.unsentChanges + syncState.value.unsentPhotos);
	let waits = false;
	unsent.subscribe(() => {
		if (waits) return;
		waits = true;
		setTimeout(() => {
			waits = false;
			void measure();
		}, AT_MOST_EVERY_MS);
	});
	setInterval(() => void measure(), EVERY_MS);
	void measure();
}

/**
 * Ask the browser to keep the storage, after the first thing was kept: then a browser that asks
 * the person does so when they see what for, and others look kindly on a page in use.
 */
export async function askOnce(): Promise<void> {
	if (asked || syncState.value.persisted === true) return;
	asked = true;
	tell({ persisted: await askToPersist() });
	await measure();
}

async function measure(): Promise<void> {
	const { persisted } = await measureDanger(syncState.peek(), Date.now());
	if (persisted !== syncState.peek().persisted) tell({ persisted });
}
