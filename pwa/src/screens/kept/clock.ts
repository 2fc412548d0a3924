/** By how much the phone's clock is wrong, in words. */

/** As far as the server believes a clock that is ahead. */
const WRONG_MS = 5 * 60_000;
const MINUTE_MS = 60_000;

/**
 * `7 min fast`; null for a clock that agrees with the server's.
 *
 * `offsetMs` is server minus phone, in milliseconds: a positive one means that the phone is slow.
 */
export function clockWords(offsetMs: number): string | null {
	if (Math.abs(offsetMs) <= WRONG_MS) return null;
	return `${sizeWords(Math.abs(offsetMs) / MINUTE_MS)} ${offsetMs > 0 ? "slow" : "fast"}`;
}

function sizeWords(minutes: number): string {
	if (minutes < 120) return `${Math.round(minutes)} min`;
	if (minutes < 2_880) return `${Math.round(minutes / 60)} h`;
	return `${Math.round(minutes / 1_440)} days`;
}
