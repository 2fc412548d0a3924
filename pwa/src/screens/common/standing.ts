/** How this phone stands with the server, in one line; the words of the status region. */
import { session } from "../../sync/session.ts";
import { type SyncState, syncState } from "../../sync/state.ts";
import { count } from "../../ui/words.ts";

export interface Standing {
	readonly words: string;
	/** `no` while work is on this phone only. */
	readonly safe: "yes" | "no" | "unknown";
}

export function standingWords(): Standing {
	return describeStanding(syncState.value, session.value.paired);
}

export function describeStanding(state: SyncState, paired: boolean): Standing {
	const waiting = waitingWords(state);
	const refused = state.rejected.length;
	if (refused > 0) return { words: `${count(refused, "edit")} refused by the server`, safe: "no" };
	if (!paired)
		return waiting
			? { words: `Not paired. ${waiting} kept here only`, safe: "no" }
			: { words: "Not paired with a server", safe: "unknown" };
	const line = state.online === "no" ? "Offline. " : "";
	if (waiting) {
		const verb = state.running && state.online === "yes" ? "being sent" : "kept here only";
		return { words: `${line}${waiting} ${verb}`, safe: "no" };
	}
	if (state.online === "no") return { words: "Offline. Nothing waits to be sent", safe: "yes" };
	if (state.lastSyncedAt === null) return { words: "Not yet sent and received", safe: "unknown" };
	return { words: "All on the server", safe: "yes" };
}

function waitingWords({ unsentPhotos, unsentChanges }: SyncState): string {
	const parts = [
		unsentPhotos > 0 ? count(unsentPhotos, "photo") : "",
		unsentChanges > 0 ? count(unsentChanges, "edit") : "",
	];
	return parts.filter(Boolean).join(", ");
}
