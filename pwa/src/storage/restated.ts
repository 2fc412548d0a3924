/** What this phone knows by a snapshot only, as changes for a server that may have lost it. */
import type { Change } from "../domain/change.ts";
import { restated } from "../domain/restate.ts";
import { nameOf, stateOf, statesInBlocks } from "./blocks.ts";
import type { BlockRow, ReadTx } from "./db.ts";

type Sent = Change & { readonly boat: string };

/** The key of a block that comes before all others. */
export const BEFORE_ALL: readonly (string | number)[] = [];

/** The first block after the one with this key, and the key that it has; null after the last. */
export async function nextBlock(
	tx: ReadTx,
	after: readonly (string | number)[],
): Promise<{ block: BlockRow; key: readonly (string | number)[] } | null> {
	const [block] = await tx.objectStore("block").getAll(IDBKeyRange.lowerBound(after, true), 1);
	return block ? { block, key: [block.boat, block.page, block.first] } : null;
}

/**
 * What stands in a block, restated, but for changes that the log has whole.
 *
 * The record of the boat itself goes first: nothing of a boat is taken in before it.
 */
export async function restatedIn(tx: ReadTx, { boat, records }: BlockRow): Promise<Sent[]> {
	const ofBoat = await statesInBlocks(tx, boat, [nameOf({ table: "boat", key: boat })]);
	const named = records.map((record) => ({
		table: record[0],
		key: record[1],
		...stateOf(record),
	}));
	const states = [
		...[...ofBoat.values()].map((state) => ({ table: "boat", key: boat, ...state })),
		...named,
	];
	const log = tx.objectStore("change");
	const changes = states.flatMap(restated);
	const whole = await Promise.all(changes.map(({ restates = "" }) => log.getKey(restates)));
	return changes.filter((_, at) => whole[at] === undefined).map((change) => ({ boat, ...change }));
}

/** The same of all blocks, for the rescue file. */
export async function restatedInBlocks(tx: ReadTx): Promise<Sent[]> {
	const found = new Map<string, Sent>();
	for (let next = await nextBlock(tx, BEFORE_ALL); next; next = await nextBlock(tx, next.key)) {
		for (const change of await restatedIn(tx, next.block)) found.set(change.id, change);
	}
	return [...found.values()];
}
