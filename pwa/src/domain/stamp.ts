/**
 * The hybrid logical clock: 12 hex digits of milliseconds since 1970, then 4 of a counter.
 *
 * Stamps have a fixed width and compare as text, here and on the server. They never run
 * backwards on one phone, whatever its clock does, and a stamp from the far future seen in
 * somebody else's change does not pull this phone's clock along.
 */
export const FIRST_STAMP = "0000000000000000";

/** How far ahead of the server's time a stamp may be before it is not believed. */
export const MAX_AHEAD_MS = 5 * 60_000;

const MAX_COUNT = 0xffff;
const MAX_MS = 0xffff_ffff_ffff;
const FORM = /^[0-9a-f]{16}$/;

/** The milliseconds of a stamp. Throws RangeError if it is none. */
export function millisecondsOf(stamp: string): number {
	if (!FORM.test(stamp)) throw new RangeError(`${stamp} is no stamp`);
	return Number.parseInt(stamp.slice(0, 12), 16);
}

/** The stamp of `ms` milliseconds and a count from 0 to 65535. */
export function stampOf(ms: number, count = 0): string {
	const whole = Math.min(Math.max(Math.floor(ms), 0), MAX_MS);
	return whole.toString(16).padStart(12, "0") + count.toString(16).padStart(4, "0");
}

/** The stamp after `last`, at `now_ms` or, if the clock stands before `last`, just after it. */
export function nextStamp(last: string, now_ms: number): string {
	const lastMs = millisecondsOf(last);
	if (now_ms > lastMs) return stampOf(now_ms);
	const count = Number.parseInt(last.slice(12), 16);
	return count < MAX_COUNT ? stampOf(lastMs, count + 1) : stampOf(lastMs + 1);
}

/** The clock after `seen` arrived from the server; unchanged if `seen` is too far in the future. */
export function witness(last: string, seen: string, now_ms: number): string {
	if (!FORM.test(seen) || millisecondsOf(seen) > now_ms + MAX_AHEAD_MS) return last;
	return seen > last ? seen : last;
}
