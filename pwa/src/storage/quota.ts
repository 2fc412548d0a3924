/** How much room there is, and whether the browser promises to keep what is stored. */

export interface Usage {
	readonly usedMb: number;
	/** Null where the browser does not say. */
	readonly freeMb: number | null;
	readonly persisted: boolean | null;
}

const ASK_TIMEOUT_MS = 2_000;
const MB = 1_000_000;

/** What the browser says of its storage; never throws, never waits more than two seconds. */
export async function usage(): Promise<Usage> {
	const storage = navigator.storage as StorageManager | undefined;
	const estimate = await within(storage?.estimate?.());
	const used = estimate?.usage ?? 0;
	const freeMb = estimate?.quota === undefined ? null : (estimate.quota - used) / MB;
	return { usedMb: used / MB, freeMb, persisted: await within(storage?.persisted?.()) };
}

/**
 * Ask the browser not to evict what is stored. Null where it does not answer: some show a
 * question to the person and settle only then, or never.
 */
export async function askToPersist(): Promise<boolean | null> {
	const storage = navigator.storage as StorageManager | undefined;
	return within(storage?.persist?.());
}

/** Whether the app was opened from the home screen; browsers don't clear such ones by themselves. */
export function isInstalled(): boolean {
	const apple = (navigator as Navigator & { standalone?: boolean }).standalone === true;
	return apple || globalThis.matchMedia?.("(display-mode: standalone)").matches === true;
}

async function within<R>(answer: Promise<R> | undefined): Promise<R | null> {
	if (!answer) return null;
	const late = new Promise<null>((resolve) => setTimeout(resolve, ASK_TIMEOUT_MS, null));
	return Promise.race([answer.catch(() => null), late]);
}
