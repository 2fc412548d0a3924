/** How this phone stands with the server, in one line; the words of the status region. */
import { boat } from "../../storage/memory.ts";
import { session } from "../../sync/session.ts";
import { type SyncState, syncState } from "../../sync/state.ts";
import { count } from "../../ui/words.ts";
import { isOnSecondPhone } from "./whereItIs.ts";

export interface Standing {
	readonly words: string;
	/** `no` while work is on this phone only. */
	readonly safe: "yes" | "no" | "unknown";
}

export function standingWords(): Standing {
	const { paired, server, received } = session.value;
	const twice = isOnSecondPhone(syncState.value, received, boat.key.value);
	return describeStanding(syncState.value, paired, server !== null, twice);
}

/** `knew`: this phone was paired before. `twice`: another phone has all of its edits too. */
export function describeStanding(
	state: SyncState,
	paired: boolean,
	knew = false,
	twice = false,
): Standing {
	const waiting = waitingWords(state);
	const refused = state.rejected.length;
	if (refused > 0) return { words: `${count(refused, "edit")} refused by the server`, safe: "no" };
	if (!paired) {
		const no = knew ? "Pair again" : "Not paired";
		return waiting
			? { words: `${no}. ${waiting} kept here only`, safe: "no" }
			: { words: knew ? no : "Not paired with a server", safe: "unknown" };
	}
	const line = state.online === "no" ? "Offline. " : "";
	if (waiting) {
		const verb = state.running && state.online === "yes" ? "being sent" : "kept here only";
		return { words: `${line}${waiting} ${verb}`, safe: "no" };
	}
	if (state.online === "no") return { words: "Offline. All is sent", safe: "yes" };
	if (state.lastSyncedAt === null) return { words: "Not yet sent and received", safe: "unknown" };
	return { words: `All on the server${twice ? " and a second phone" : ""}`, safe: "yes" };
}

/** `3 photos, 12 edits`; empty when there is neither. */
export function waitingWords(of: Pick<SyncState, "unsentPhotos" | "unsentChanges">): string {
	const { unsentPhotos, unsentChanges } = of;
	const parts = [
		unsentPhotos > 0 ? count(unsentPhotos, "photo") : "",
		unsentChanges > 0 ? count(unsentChanges, "edit") : "",
	];
	return parts.filter(Boolean).join(", ");
}
