/**
 * After the server was restored from a backup: what this phone holds of other people's changes.
 *
 * Their authors send them again themselves, unless their phones are lost. What the server had
 * acknowledged, and somebody still holds, must not be lost with it.
 */
import type { Change } from "../domain/change.ts";
import { asSentAgain, writeStores } from "../storage/db.ts";
import { getMeta, putMeta } from "../storage/meta.ts";
import { nextBlock, restatedIn } from "../storage/restated.ts";
import { BATCH, isAboutContent, post } from "./push.ts";

interface Some {
	/** By boat. */
	readonly changes: ReadonlyMap<string, readonly Change[]>;
	readonly last: string;
}

interface Restated {
	readonly boat: string;
	readonly key: readonly (string | number)[];
	readonly changes: readonly Change[];
}

/**
 * Offer all of it, some at a time; goes on where it was cut off. Throws SyncTrouble.
 *
 * What this phone knows by a snapshot only comes last, restated.
 */
export async function offerOthers(): Promise<void> {
	for (let some = await next(); some; some = await next()) {
		for (const [boat, changes] of some.changes) await offer(boat, changes);
		const { last } = some;
		await writeStores(["meta"], (tx) => putMeta(tx, "offered_to", last));
	}
	await offerSnapshots();
}

async function offerSnapshots(): Promise<void> {
	for (let some = await nextRestated(); some; some = await nextRestated()) {
		const { changes, key, boat } = some;
		for (let at = 0; at < changes.length; at += BATCH) {
			await offer(boat, changes.slice(at, at + BATCH));
		}
		await writeStores(["meta"], (tx) => putMeta(tx, "restated_to", key));
	}
}

/** What the next block holds; null when there is none to restate, or no more. */
function nextRestated(): Promise<Restated | null> {
	return writeStores(["meta", "block", "change"], async (tx) => {
		const after = await getMeta(tx, "restated_to");
		if (after === undefined) return null;
		const next = await nextBlock(tx, after);
		if (next === null) {
			await tx.objectStore("meta").delete("restated_to");
			return null;
		}
		const { boat } = next.block;
		const sent = await restatedIn(tx, next.block);
		return { boat, key: next.key, changes: sent.map(({ boat: _, ...change }) => change) };
	});
}

/** Null when there is nothing to offer, or nothing more. */
function next(): Promise<Some | null> {
	return writeStores(["meta", "change"], async (tx) => {
		const after = await getMeta(tx, "offered_to");
		if (after === undefined) return null;
		const device = await getMeta(tx, "device");
		const rows = await tx.objectStore("change").getAll(IDBKeyRange.lowerBound(after, true), BATCH);
		const last = rows.at(-1)?.id;
		if (last === undefined) {
			await tx.objectStore("meta").delete("offered_to");
			return null;
		}
		const changes = new Map<string, Change[]>();
		for (const row of rows) {
			if (row.device === device && !row.restates) continue;
			// Beside the whole, a part of it is no news.
			if (row.restates && (await tx.objectStore("change").getKey(row.restates))) continue;
			changes.set(row.boat, [...(changes.get(row.boat) ?? []), asSentAgain(row)]);
		}
		return { changes, last };
	});
}

/** What the server can't take of it stays here; its author deals with it. */
async function offer(boat: string, changes: readonly Change[]): Promise<void> {
	try {
		await post(boat, changes);
	} catch (error) {
		if (!isAboutContent(error)) throw error;
		if (changes.length === 1) return;
		const middle = Math.ceil(changes.length / 2);
		await offer(boat, changes.slice(0, middle));
		await offer(boat, changes.slice(middle));
	}
}
