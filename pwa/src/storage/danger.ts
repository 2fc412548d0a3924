/** Whether what is kept on this phone is in danger, said before it is lost, and once it was. */
import { type ReadonlySignal, signal } from "@preact/signals";
import { readStores, writeStores } from "./db.ts";
import { type Marker, readMarker } from "./marker.ts";
import { getMeta, writeMeta } from "./meta.ts";
import { isInstalled, type Usage, usage } from "./quota.ts";

export interface StorageWarning {
	/**
	 * `low`: 80 % of the room is used, or less than 200 MB is free.
	 * `evictable-with-unsent`: unsent work lies in a browser that may clear it.
	 */
	readonly level: "none" | "low" | "evictable-with-unsent";
	/** Something has waited for the server for more than 24 hours. */
	readonly unsentOverADay: boolean;
	readonly usedMb: number;
	/** Null where the browser does not say. */
	readonly freeMb: number | null;
}

/** What had been on this phone before the browser cleared it. */
export type LostStorage = Marker;

/** What waits for the server. */
export interface Unsent {
	readonly unsentChanges: number;
	readonly unsentPhotos: number;
	/** Milliseconds since 1970. */
	readonly oldestUnsentAt: number | null;
}

const FULL_SHARE = 0.8;
const LOW_FREE_MB = 200;
const DAY_MS = 86_400_000;

const warning = signal<StorageWarning>({
	level: "none",
	unsentOverADay: false,
	usedMb: 0,
	freeMb: null,
});
const lost = signal<LostStorage | null>(null);

export const storageWarning: ReadonlySignal<StorageWarning> = warning;

/** Not null if the browser has cleared what was kept on this phone, until the person has read it. */
export const lostStorage: ReadonlySignal<LostStorage | null> = lost;

/** The person has read it. */
export function acknowledgeLoss(): void {
	lost.value = null;
	// Should this fail, it is told once more at the next start, which is no harm.
	void writeStores(["meta"], (tx) => tx.objectStore("meta").delete("lost")).catch(() => {});
}

/**
 * Notice that the database is new though there was one before; once, before anything is written.
 * Throws StorageFault.
 */
export async function noticeLoss(): Promise<void> {
	const [isNew, told] = await readStores(["meta"], async (tx) => [
		(await getMeta(tx, "device")) === undefined,
		await getMeta(tx, "lost"),
	]);
	const marker = isNew ? readMarker() : null;
	if (marker) await writeMeta("lost", marker);
	lost.value = marker ?? told ?? null;
}

/** Look at the room and at what waits, and warn or stop warning. Returns what the browser said. */
export async function measureDanger(unsent: Unsent, now: number): Promise<Usage> {
	const room = await usage();
	const { usedMb, freeMb } = room;
	const { oldestUnsentAt } = unsent;
	const unsentOverADay = oldestUnsentAt !== null && now - oldestUnsentAt > DAY_MS;
	const next = { level: levelOf(room, unsent), unsentOverADay, usedMb, freeMb };
	if (JSON.stringify(next) !== JSON.stringify(warning.value)) warning.value = next;
	return room;
}

function levelOf(room: Usage, { unsentChanges, unsentPhotos }: Unsent): StorageWarning["level"] {
	const mayBeCleared = room.persisted !== true && !isInstalled();
	if (mayBeCleared && unsentChanges + unsentPhotos > 0) return "evictable-with-unsent";
	const { usedMb, freeMb } = room;
	if (freeMb === null) return "none";
	return freeMb < LOW_FREE_MB || usedMb >= FULL_SHARE * (usedMb + freeMb) ? "low" : "none";
}
