/** Lets every part of sync ask for a round; only the schedule, which knows all parts, can begin one. */
let begin = async (): Promise<void> => {};

/** Send and receive now, whatever was waited for. Never throws: `syncState` tells how it went. */
export function syncNow(): Promise<void> {
	return begin();
}

/** For the schedule alone. */
export function whenAsked(start: () => Promise<void>): void {
	begin = start;
}
