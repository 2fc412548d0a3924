/**
 * The first pull of a boat: its records as they are, in place of all changes that led to them.
 *
 * Only for a phone that holds nothing of the boat: whoever does has to see every change, because
 * the server may put right the stamps of its own. What is written on the server while the pages
 * come in is received by the ordinary pull afterwards, from the cursor of the first page.
 */
import { holdsAny, putBlocks, seen, seenInBlock } from "../storage/blocks.ts";
import { readStores, type StoreName, writeStores } from "../storage/db.ts";
import { showSeen } from "../storage/memory.ts";
import {
	dropSnapshotPlace,
	getCursor,
	getSnapshotPlace,
	putCursor,
	putSnapshotPlace,
	type SnapshotPlace,
} from "../storage/meta.ts";
import { RECORD_STORES, rebuildOver } from "../storage/records.ts";
import { tellTabs } from "../storage/tabs.ts";
import { type Columns, rowsOf } from "./columns.ts";
import { call } from "./http.ts";
import { SyncTrouble, slugOf } from "./problem.ts";
import { witnessAll } from "./witness.ts";

const PAGE = 10_000;
const START: SnapshotPlace = { cursor: 0, last: null, page: 0, after: "" };
const STORES: StoreName[] = [...RECORD_STORES, "meta"];

interface Snapshot extends Columns {
	readonly cursor: number;
	/** The id of the change at the cursor. */
	readonly last?: string | null;
	readonly more: boolean;
	/** The name after which the next page starts. */
	readonly after: string | null;
}

/** Receive all records of a boat if this phone has none. Throws SyncTrouble, StorageFault. */
export async function pullSnapshot(boat: string): Promise<void> {
	let place = await placeOf(boat);
	while (place) {
		const snapshot = await fetchPage(boat, place.after);
		if (snapshot === null) return;
		place = await storePage(boat, place, snapshot);
	}
}

/** Where to go on; null for a phone that is past its first pull. */
function placeOf(boat: string): Promise<SnapshotPlace | null> {
	return readStores(["meta", "record", "block"], async (tx) => {
		const place = await getSnapshotPlace(tx, boat);
		if (place) return place;
		return (await getCursor(tx, boat)) > 0 || (await holdsAny(tx, boat)) ? null : START;
	});
}

/** Null for a server that has no snapshots yet. */
async function fetchPage(boat: string, after: string): Promise<Snapshot | null> {
	const query = new URLSearchParams({ limit: String(PAGE), ...(after && { after }) });
	let page: Partial<Snapshot> | null;
	try {
		page = await call(`/api/boats/${encodeURIComponent(boat)}/snapshot?${query}`);
	} catch (error) {
		const answer = error instanceof SyncTrouble ? error.answer : null;
		if (answer?.status === 404 && slugOf(answer) !== "no-such-boat") return null;
		throw error;
	}
	if (!isSnapshot(page)) throw new SyncTrouble("not our server");
	return page;
}

function isSnapshot(page: Partial<Snapshot> | null): page is Snapshot {
	return (
		typeof page?.cursor === "number" &&
		Array.isArray(page.devices) &&
		Array.isArray(page.records) &&
		typeof page.versions === "object"
	);
}

/** Store a page and where the next one starts; null after the last, or if another tab was faster. */
async function storePage(
	boat: string,
	place: SnapshotPlace,
	snapshot: Snapshot,
): Promise<SnapshotPlace | null> {
	const { records, versions } = rowsOrTrouble(snapshot);
	const { cursor, last = null } = place.page === 0 ? snapshot : place;
	const next =
		snapshot.more && snapshot.after
			? { cursor, last, page: place.page + 1, after: snapshot.after }
			: null;
	const rows = await writeStores(STORES, async (tx) => {
		const now = (await getSnapshotPlace(tx, boat)) ?? START;
		if (now.after !== place.after || (await getCursor(tx, boat)) > 0) return null;
		await putBlocks(tx, boat, place.page, records);
		await witnessAll(
			tx,
			versions.map(([stamp]) => stamp),
		);
		if (next) await putSnapshotPlace(tx, boat, next);
		else {
			await dropSnapshotPlace(tx, boat);
			await putCursor(tx, boat, cursor, last);
		}
		return rebuildOver(
			tx,
			boat,
			records.map(([table, key]) => ({ table, key })),
		);
	});
	if (rows === null) return null;
	showSeen(boat, [...records.map(seenInBlock), ...rows.map(seen)]);
	tellTabs({ kind: "boat", boat });
	return next;
}

function rowsOrTrouble(snapshot: Snapshot): ReturnType<typeof rowsOf> {
	try {
		return rowsOf(snapshot);
	} catch (error) {
		if (error instanceof TypeError || error instanceof RangeError) {
			throw new SyncTrouble("not our server");
		}
		throw error;
	}
}
