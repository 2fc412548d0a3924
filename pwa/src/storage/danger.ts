/** Whether what is kept on this phone is in danger, said before it is lost, and once it was. */
import { type ReadonlySignal, signal } from "@preact/signals";

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
export interface LostStorage {
	readonly unsentChanges: number;
	readonly unsentPhotos: number;
	/** Milliseconds since 1970 at which this was last noted. */
	readonly notedAt: number;
}

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
}
