/** The log of a record as far as this phone holds it, and the way back from any change. */
import type { Change, Edit } from "../domain/change.ts";

/** What undoing a change would do: edits to keep, and what it leaves alone. */
export interface Undo {
	/** Edits that bring the earlier values back; empty if the change no longer stands anywhere. */
	readonly edits: readonly Edit[];
	/** Fields that somebody has written since; undoing leaves them as they are. */
	readonly overwritten: readonly string[];
}

/** How to undo `change`: for each of its fields that still stands, the value before it. */
export async function undoOf(_change: Change): Promise<Undo> {
	return { edits: [], overwritten: [] };
}

/** Undo `change` as a new edit, where it still stands; the log keeps both. Throws StorageFault. */
export async function undoChange(change: Change): Promise<Undo> {
	return undoOf(change);
}
