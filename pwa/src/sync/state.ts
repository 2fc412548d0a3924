/** What the person is told about sending and receiving. */
import { type ReadonlySignal, signal } from "@preact/signals";
import { noteKept } from "../storage/marker.ts";
import { boat } from "../storage/memory.ts";
import { readMeta } from "../storage/meta.ts";
import { type RejectedChange, type Waiting, waiting } from "../storage/outbox.ts";
import { hearTabs, tellTabs } from "../storage/tabs.ts";
import type { SyncProblem } from "./problem.ts";

export type { RejectedChange } from "../storage/outbox.ts";
export { discardRejected, sendAgain } from "../storage/outbox.ts";
export { syncNow } from "./now.ts";
export type { SyncProblem } from "./problem.ts";

export interface SyncState {
	readonly online: "yes" | "no" | "unknown";
	readonly unsentChanges: number;
	readonly unsentPhotos: number;
	readonly unsentBytes: number;
	/** Milliseconds since 1970. */
	readonly oldestUnsentAt: number | null;
	/** Milliseconds since 1970; null before the first time everything was sent and received. */
	readonly lastSyncedAt: number | null;
	readonly running: boolean;
	readonly problem: SyncProblem | null;
	readonly rejected: readonly RejectedChange[];
	/** The running number of the last change that was kept on this phone; 0 before the first. */
	readonly lastSeq: number;
	/** Server time minus phone time. */
	readonly clockOffsetMs: number;
	/** Bytes of photographs that went out since the queue was last empty, and of all in it then. */
	readonly photoBytesSent: number;
	readonly photoBytesTotal: number;
	/** Photographs wait because the phone says that its line costs money. */
	readonly pausedForMetered: boolean;
	/** Whether the browser promises to keep what is stored; null where it does not say. */
	readonly persisted: boolean | null;
}

const state = signal<SyncState>({
	online: "unknown",
	unsentChanges: 0,
	unsentPhotos: 0,
	unsentBytes: 0,
	oldestUnsentAt: null,
	lastSyncedAt: null,
	running: false,
	problem: null,
	rejected: [],
	lastSeq: 0,
	clockOffsetMs: 0,
	photoBytesSent: 0,
	photoBytesTotal: 0,
	pausedForMetered: false,
	persisted: null,
});

export const syncState: ReadonlySignal<SyncState> = state;

/** Change what is told; for `sync/` alone. */
export function tell(news: Partial<SyncState>): void {
	state.value = { ...state.value, ...news };
}

/** Count again what waits, and let the other open pages count too. */
export async function recount(): Promise<void> {
	const counts = await waiting();
	tell(counts);
	note(counts);
	tellTabs({ kind: "counts" });
}

/** A phone that never worked on a boat has nothing to lose. */
function note({ unsentChanges, unsentPhotos }: Waiting): void {
	if (boat.key.value !== null) noteKept(unsentChanges, unsentPhotos, Date.now());
}

/** Load what was last known; once, at start. Throws StorageLost. */
export async function loadSyncState(): Promise<void> {
	hearTabs((message) => {
		if (message.kind === "counts") void waiting().then(tell);
	});
	const counts = await waiting();
	note(counts);
	tell({
		...counts,
		lastSyncedAt: (await readMeta("last_synced_at")) ?? null,
		clockOffsetMs: (await readMeta("clock_offset_ms")) ?? 0,
	});
}
