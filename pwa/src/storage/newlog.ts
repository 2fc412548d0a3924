/**
 * A new log for Chromium's database, before this page writes into the one that it found.
 *
 * A browser that is killed in the middle of a write, as phones do when they need the memory, leaves
 * half an entry at the end of its log. At the next start Chromium passes over it, but then writes on
 * behind it; at the start after that it finds the log damaged and throws away all that this site
 * has stored, or silently loses entries that it had acknowledged. The fault is LevelDB's
 * (https://github.com/google/leveldb/issues/1287); remove this when Chromium no longer has it.
 *
 * Deleting a database, even an empty one, makes Chromium compact, which ends the old log: what it
 * held is in a table then, and the half entry goes with its file.
 */
import { deleteDB, openDB } from "idb";

const NAME = "shedtally-new-log";
/** Work must not hang on this: it wards off what is rare. */
const LONGEST_MS = 1_000;

let begun: Promise<void> | null = null;

/** Resolves when this page may write, at once after the first time. Never throws. */
export function newLog(): Promise<void> {
	begun ??= hasTheFault() ? atMost(LONGEST_MS, endOldLog()) : Promise.resolve();
	return begun;
}

/** The other engines keep their databases in SQLite; on iOS, Chrome is one of them. */
function hasTheFault(): boolean {
	return /Chrom(e|ium)\//.test(navigator.userAgent);
}

async function endOldLog(): Promise<void> {
	(await openDB(NAME, 1)).close();
	await deleteDB(NAME);
}

function atMost(longestMs: number, work: Promise<void>): Promise<void> {
	return new Promise((resolve) => {
		const timer = setTimeout(resolve, longestMs);
		work
			.catch(() => {})
			.finally(() => {
				clearTimeout(timer);
				resolve();
			});
	});
}
