/**
 * Keeping: the one way in which anything a person did reaches the phone's database.
 *
 * One transaction holds the records, the changes that wait for the server, the photographs and
 * the counters. It is on the disk before the screen says "kept", or nothing of it is there.
 */
import type { Change, Edit } from "../domain/change.ts";
import type { Values } from "../domain/contract.ts";
import { uuid7 } from "../domain/key.ts";
import { faults } from "../domain/shape.ts";
import { FIRST_STAMP, nextStamp } from "../domain/stamp.ts";
import { nameOf } from "./blocks.ts";
import { writeMakingRoom } from "./budget.ts";
import type { RecordRow, StoreName, WriteTx } from "./db.ts";
import { Unkeepable } from "./faults.ts";
import { boat, showRows } from "./memory.ts";
import { getCursor, getMeta, putMeta } from "./meta.ts";
import { type KeptPhoto, putPhoto } from "./photos.ts";
import { applyChanges, heldRows, RECORD_STORES } from "./records.ts";
import { tellTabs } from "./tabs.ts";

const STORES: StoreName[] = [
	...RECORD_STORES,
	"meta",
	"outbox",
	"photo",
	"photo_use",
	"thumbnail",
	"photo_outbox",
	"tag",
];

const listeners: (() => void)[] = [];

/** Call `listener` after each keep; the schedule uses it to send soon. */
export function onKept(listener: () => void): void {
	listeners.push(listener);
}

/**
 * Keep edits of the chosen boat, with the bytes of new photographs. Resolves when it is on disk.
 *
 * Throws Unkeepable (a value its field can't hold), StorageFull or StorageLost; then nothing of
 * it was kept, and what was kept before is untouched.
 */
export async function keep(
	edits: readonly Edit[],
	photos: readonly KeptPhoto[] = [],
): Promise<void> {
	const key = boat.key.value;
	if (key === null) throw new Error("choose a boat before keeping anything");
	const wrong = edits.flatMap(({ table, set }) => faults(table, set as Values));
	if (wrong.length > 0) throw new Unkeepable(wrong);
	const work = (tx: WriteTx): Promise<RecordRow[]> => write(tx, key, edits, photos);
	const rows = await writeMakingRoom(STORES, work);
	showRows(rows);
	tellTabs({
		kind: "records",
		boat: key,
		rows: rows.map((row) => [row.table, row.key]),
		pulled: null,
	});
	for (const listener of listeners) listener();
}

async function write(
	tx: WriteTx,
	key: string,
	edits: readonly Edit[],
	photos: readonly KeptPhoto[],
): Promise<RecordRow[]> {
	const now = Date.now();
	for (const photo of photos) await putPhoto(tx, photo, now);
	const changes = await newChanges(tx, key, edits, now);
	const rows = await applyChanges(tx, key, changes);
	const outbox = tx.objectStore("outbox");
	const writes: Promise<unknown>[] = changes.map((change) =>
		outbox.put({ boat: key, seq: change.seq, id: change.id, at: now, change }),
	);
	for (const change of changes) {
		if (change.table === "tag") writes.push(tx.objectStore("tag").delete(change.key));
	}
	await Promise.all(writes);
	return rows;
}

/** Numbers and stamps are given inside the transaction, so that two open pages share none. */
async function newChanges(
	tx: WriteTx,
	key: string,
	edits: readonly Edit[],
	now: number,
): Promise<Change[]> {
	const device = (await getMeta(tx, "device")) ?? uuid7(now);
	const offset = (await getMeta(tx, "clock_offset_ms")) ?? 0;
	const base = await getCursor(tx, key);
	let stamp = (await getMeta(tx, "clock")) ?? FIRST_STAMP;
	let seq = (await getMeta(tx, "seq")) ?? 0;
	const rows = await heldRows(tx, key, edits);
	const changes = edits.map(({ table, key: record, set }) => {
		const held = rows.get(nameOf({ table, key: record }));
		// What the person sees in these fields may carry a stamp beyond the clock, from a time when
		// the clock was wrong; the edit must win over it all the same.
		for (const field of Object.keys(set)) stamp = latest(stamp, held?.versions[field]?.[0]);
		stamp = nextStamp(stamp, now + offset);
		seq += 1;
		return { id: uuid7(now), device, seq, stamp, table, key: record, set: set as Values, base };
	});
	await putMeta(tx, "device", device);
	await putMeta(tx, "clock", stamp);
	await putMeta(tx, "seq", seq);
	return changes;
}

function latest(stamp: string, other: string | undefined): string {
	return other !== undefined && other > stamp ? other : stamp;
}
