/** Keeps the screen on while photographs go out: a phone that locks stops the page in seconds. */

/** Fewer than this are through before any phone locks. */
const WORTH_IT = 4;

/** Do `work`; with `pieces` enough, hold the screen on until it is done. */
export async function whileAwake(pieces: number, work: () => Promise<void>): Promise<void> {
	const lock = pieces >= WORTH_IT ? await holdScreen() : null;
	try {
		await work();
	} finally {
		await lock?.release().catch(() => {});
	}
}

async function holdScreen(): Promise<WakeLockSentinel | null> {
	const wakeLock = navigator.wakeLock as WakeLock | undefined;
	try {
		return (await wakeLock?.request("screen")) ?? null;
	} catch {
		// Refused in power saving or in the background; the photographs go out all the same.
		return null;
	}
}
