/** The log of a record as far as this phone holds it, and the way back from any change. */
import type { Change, Edit, State } from "../domain/change.ts";
import { EMPTY } from "../domain/merge.ts";
import { isTable } from "../domain/read.ts";
import { undone } from "../domain/undo.ts";
import { nameOf, statesInBlocks } from "./blocks.ts";
import { type ReadTx, readStores, writeStores } from "./db.ts";
import { keep } from "./keep.ts";
import { boat } from "./memory.ts";
import { RECORD_STORES } from "./records.ts";

/** What undoing a change would do: edits to keep, and what it leaves alone. */
export interface Undo {
	/** Edits that bring the earlier values back; empty if the change no longer stands anywhere. */
	readonly edits: readonly Edit[];
	/** Fields that somebody has written since; undoing leaves them as they are. */
	readonly overwritten: readonly string[];
	/** Fields whose earlier value is on the server only; `historyOf` fetches it. */
	readonly unknown: readonly string[];
}

interface Known {
	readonly log: readonly Change[];
	/** What a snapshot brought of the record. */
	readonly base: State;
	readonly state: State;
}

/** How to undo `change`: for each of its fields that still stands, the value before it. */
export async function undoOf(change: Change): Promise<Undo> {
	const { table, key } = change;
	const of = boat.key.value;
	if (of === null || !isTable(table)) return { edits: [], overwritten: [], unknown: [] };
	const { log, base, state } = await known(of, table, key);
	const { set, overwritten, unknown } = undone(change, state, log, base);
	const edits = Object.keys(set).length > 0 ? [{ table, key, set } as Edit] : [];
	return { edits, overwritten, unknown };
}

/**
 * Undo `change` as a new edit, where it still stands; the log keeps both.
 *
 * Like any edit it carries what this phone has seen, so that undoing what somebody has written
 * since, unseen here, becomes a clash to settle. Throws StorageFault.
 */
export async function undoChange(change: Change): Promise<Undo> {
	const undo = await undoOf(change);
	if (undo.edits.length > 0) await keep(undo.edits);
	return undo;
}

/** What this phone knows of a record's log, oldest first, and whether that is all of it. */
export async function loggedHere(
	of: string,
	table: string,
	key: string,
): Promise<{ readonly entries: readonly Change[]; readonly complete: boolean }> {
	const { log, base } = await known(of, table, key);
	// What restates a lost change is all that is left of it.
	const ids = new Set(log.flatMap(({ id, restates }) => [id, restates]));
	return { entries: log, complete: Object.values(base.versions).every(([, , id]) => ids.has(id)) };
}

/** Put changes that the server has told of into the log; their record holds them already. */
export function keepInLog(of: string, changes: readonly Change[]): Promise<void> {
	return writeStores(["change"], async (tx) => {
		const log = tx.objectStore("change");
		const held = await Promise.all(changes.map(({ id }) => log.getKey(id)));
		const missing = changes.filter((_, at) => held[at] === undefined);
		await Promise.all(missing.map((change) => log.put({ ...change, boat: of })));
	});
}

function known(of: string, table: string, key: string): Promise<Known> {
	return readStores([...RECORD_STORES], async (tx) => {
		const [log, base, row] = await Promise.all([
			tx.objectStore("change").index("record").getAll([of, table, key]),
			baseOf(tx, of, table, key),
			tx.objectStore("record").get([of, table, key]),
		]);
		log.sort((a, b) => (a.stamp < b.stamp ? -1 : a.stamp > b.stamp ? 1 : 0));
		return { log, base, state: row ?? base };
	});
}

async function baseOf(tx: ReadTx, of: string, table: string, key: string): Promise<State> {
	const name = nameOf({ table, key });
	return (await statesInBlocks(tx, of, [name])).get(name) ?? EMPTY;
}
