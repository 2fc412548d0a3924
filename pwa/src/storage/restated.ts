/** What this phone knows by a snapshot only, as changes for a server that may have lost it. */
import type { Change } from "../domain/change.ts";
import { restated } from "../domain/restate.ts";
import { nameOf, stateOf, statesInBlocks } from "./blocks.ts";
import { asSentAgain, type BlockRow, type ReadTx } from "./db.ts";

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

/** What stands in a block, restated, but for changes that the log has whole. */
export async function restatedIn(tx: ReadTx, { boat, records }: BlockRow): Promise<Sent[]> {
	const changes = records.flatMap((record) =>
		restated({ table: record[0], key: record[1], ...stateOf(record) }),
	);
	const log = tx.objectStore("change");
	const whole = await Promise.all(changes.map(({ restates = "" }) => log.getKey(restates)));
	return changes.filter((_, at) => whole[at] === undefined).map((change) => ({ boat, ...change }));
}

/** What this phone holds of the record of a boat itself, whoever wrote it. */
export async function changesOfBoat(tx: ReadTx, boat: string): Promise<Change[]> {
	const log = await tx.objectStore("change").index("record").getAll([boat, "boat", boat]);
	const held = log.map(asSentAgain);
	const states = await statesInBlocks(tx, boat, [nameOf({ table: "boat", key: boat })]);
	const whole = new Set(log.map(({ id }) => id));
	const parts = [...states.values()].flatMap((state) =>
		restated({ table: "boat", key: boat, ...state }),
	);
	return [...held, ...parts.filter(({ restates = "" }) => !whole.has(restates))];
}

/** What stands in all blocks, restated, for the rescue file. */
export async function restatedInBlocks(tx: ReadTx): Promise<Sent[]> {
	const found: Sent[] = [];
	for (let next = await nextBlock(tx, BEFORE_ALL); next; next = await nextBlock(tx, next.key)) {
		found.push(...(await restatedIn(tx, next.block)));
	}
	return found;
}
