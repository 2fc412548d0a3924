/** Where what was kept on this phone is by now: here only, on the server, on a second phone. */
import type { Received, SecondCopy } from "../../storage/meta.ts";
import type { SyncState } from "../../sync/state.ts";
import { ago, count } from "../../ui/words.ts";

type Counts = Pick<SyncState, "lastSeq" | "unsentChanges" | "rejected">;

/**
 * Whether another phone has every edit that was kept here, as the server last said.
 *
 * It said so of the edits it had then; one that was kept since is not among them.
 */
export function isOnSecondPhone(
	{ lastSeq, unsentChanges, rejected }: Counts,
	received: Received | null,
	boat: string | null,
): boolean {
	if (received === null || unsentChanges > 0 || rejected.length > 0) return false;
	return received.last >= lastSeq && copyOf(received, boat)?.whole === true;
}

/** `all edits of this phone, 41 so far`; what the server lacks below the last that arrived is said. */
export function serverWords(received: Received | null): string {
	if (received === null) return "not heard yet";
	const { last, completeTo, missing } = received;
	if (last === 0) return "no edit of this phone yet";
	if (missing === 0) return `all edits of this phone, ${last} so far`;
	const lacking = count(missing, "edit");
	return `every edit up to number ${completeTo}; of those up to ${last} it lacks ${lacking}, refused, given up or still here`;
}

export function secondPhoneWords(
	counts: Counts,
	received: Received | null,
	boat: string | null,
	now: number,
): string {
	if (received === null) return "not heard yet";
	const copy = copyOf(received, boat);
	if (!copy) return "no other phone has read what you kept";
	const name = copy.name || "an unnamed phone";
	const seen = `seen ${ago(Date.parse(copy.last_seen), now)}`;
	return isOnSecondPhone(counts, received, boat)
		? `every edit, on ${name}, ${seen}`
		: `not all yet; ${name} has most, ${seen}`;
}

function copyOf(received: Received, boat: string | null): SecondCopy | undefined {
	return received.copies.find((copy) => copy.boat === boat);
}
