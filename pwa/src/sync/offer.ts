/**
 * After the server was restored from a backup: what this phone holds of other people's changes.
 *
 * Their authors send them again themselves, unless their phones are lost. What the server had
 * acknowledged, and somebody still holds, must not be lost with it.
 */
import type { Change } from "../domain/change.ts";
import { asSent, writeStores } from "../storage/db.ts";
import { getMeta, putMeta } from "../storage/meta.ts";
import { BATCH, isAboutContent, post } from "./push.ts";

interface Some {
	/** By boat. */
	readonly changes: ReadonlyMap<string, readonly Change[]>;
	readonly last: string;
}

/** Offer all of it, some at a time; goes on where it was cut off. Throws SyncTrouble. */
export async function offerOthers(): Promise<void> {
	for (let some = await next(); some; some = await next()) {
		for (const [boat, changes] of some.changes) await offer(boat, changes);
		const { last } = some;
		await writeStores(["meta"], (tx) => putMeta(tx, "offered_to", last));
	}
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
			if (row.device === device) continue;
			const change = { ...asSent(row), stamp: row.stamp, base: 0 };
			changes.set(row.boat, [...(changes.get(row.boat) ?? []), change]);
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
