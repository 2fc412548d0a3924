/** In which order photographs go out. */
import type { PhotoOutboxRow } from "../storage/db.ts";

const DAY_MS = 86_400_000;
const TOGETHER_MS = 60_000;

/**
 * First those that did not fail before; among these first what waits for more than a day, then
 * the newest. Within a minute, which is one item, the smallest comes first.
 */
export function inSendingOrder(
	rows: readonly PhotoOutboxRow[],
	failures: ReadonlyMap<string, number>,
	now: number,
): PhotoOutboxRow[] {
	const failed = (row: PhotoOutboxRow): number => failures.get(row.sha256) ?? 0;
	const overdue = (row: PhotoOutboxRow): boolean => now - row.at > DAY_MS;
	return [...rows].sort((a, b) => {
		if (failed(a) !== failed(b)) return failed(a) - failed(b);
		if (overdue(a) !== overdue(b)) return overdue(a) ? -1 : 1;
		if (overdue(a)) return a.at - b.at;
		const minutes = Math.floor(b.at / TOGETHER_MS) - Math.floor(a.at / TOGETHER_MS);
		return minutes !== 0 ? minutes : a.size - b.size;
	});
}
