/** Changes from the server, page by page; a page and its cursor are stored together or not at all. */
import type { Change } from "../domain/change.ts";
import { writeMakingRoom } from "../storage/budget.ts";
import { readStores } from "../storage/db.ts";
import { noteShown, showRows } from "../storage/memory.ts";
import { getCursor, getLast, putCursor } from "../storage/meta.ts";
import { applyChanges, RECORD_STORES } from "../storage/records.ts";
import { tellTabs } from "../storage/tabs.ts";
import { call } from "./http.ts";
import { SyncTrouble, slugOf } from "./problem.ts";
import { pullSnapshot } from "./snapshot.ts";
import { witnessAll } from "./witness.ts";

const PAGE = 500;

interface Page {
	readonly cursor: number;
	readonly last: string | null;
	readonly more: boolean;
	readonly changes: readonly Change[];
}

/** Receive everything new of a boat. Returns its cursor. Throws SyncTrouble, StorageFault. */
export async function pullChanges(boat: string): Promise<number> {
	await pullSnapshot(boat);
	let [since, last] = await readStores(["meta"], (tx) =>
		Promise.all([getCursor(tx, boat), getLast(tx, boat)]),
	);
	for (;;) {
		const page = await fetchPage(boat, since, last);
		await storePage(boat, since, page);
		// A page that does not move on would be fetched for ever.
		if (!page.more || page.cursor <= since) return page.cursor;
		since = page.cursor;
		last = page.last;
	}
}

/** True if the server's log is not the one that this phone has read. */
export function isOtherLog(error: unknown): boolean {
	const answer = error instanceof SyncTrouble ? error.answer : null;
	return answer !== null && slugOf(answer) === "cursor-unknown";
}

async function fetchPage(boat: string, since: number, last: string | null): Promise<Page> {
	const query = `since=${since}&limit=${PAGE}${last === null ? "" : `&last=${last}`}`;
	const path = `/api/boats/${encodeURIComponent(boat)}/changes?${query}`;
	const page = await call<Partial<Page> | null>(path);
	if (typeof page?.cursor !== "number" || !Array.isArray(page.changes)) {
		throw new SyncTrouble("not our server");
	}
	const { cursor, changes } = page;
	return { cursor, last: page.last ?? null, more: page.more === true, changes };
}

async function storePage(boat: string, since: number, page: Page): Promise<void> {
	if (page.changes.length === 0 && page.cursor === since) return;
	const rows = await writeMakingRoom([...RECORD_STORES, "meta"], async (tx) => {
		// Another open page of the app may have stored it meanwhile; then there is nothing to do.
		if ((await getCursor(tx, boat)) !== since) return null;
		await witnessAll(
			tx,
			page.changes.map(({ stamp }) => stamp),
		);
		const changed = await applyChanges(tx, boat, page.changes);
		await putCursor(tx, boat, page.cursor, page.last);
		return changed;
	});
	if (rows === null) return;
	const pulled = [since, page.cursor] as const;
	showRows(rows);
	noteShown(boat, ...pulled);
	tellTabs({ kind: "records", boat, rows: rows.map((row) => [row.table, row.key]), pulled });
}
