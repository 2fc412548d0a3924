/** Changes to the server, in batches; each leaves the phone's outbox only by its own answer. */
import type { Change } from "../domain/change.ts";
import { readStores } from "../storage/db.ts";
import { boatsWaiting, nextBatch, settle, type Verdict } from "../storage/outbox.ts";
import { changesOfBoat } from "../storage/restated.ts";
import { call, type Parcel, parcelOf } from "./http.ts";
import { SyncTrouble, slugOf } from "./problem.ts";
import { recount } from "./state.ts";

export const SCHEMA = 1;
/** Changes in a batch at first; every server takes as many. */
export const BATCH = 500;
/** For a line that keeps breaking. */
const FEWEST = 50;
/** A server takes no more. */
const MOST = 2_000;
const FAST_MS = 2_000;

/** Grows while the line is quick and shrinks when it fails, so that something always arrives. */
let batchSize = BATCH;

/** Send every change that waits, of every boat. Throws SyncTrouble. */
export async function pushChanges(): Promise<void> {
	for (const boat of await boatsWaiting()) await pushBoat(boat);
}

/** Changes in the form in which they are sent. */
interface Batch {
	readonly changes: readonly Change[];
	readonly parcel: Parcel;
}

async function pushBoat(boat: string): Promise<void> {
	let batch = await nextReady(boat, batchSize);
	while (batch) {
		const last = batch.changes.at(-1)?.seq;
		// Read and packed while the server works on this one, for a line that stays quick.
		const coming = nextReady(boat, grown(batch), last);
		// Awaited below; this only keeps its failure from being unhandled if this batch fails too.
		coming.catch(() => {});
		await pushFitting(boat, batch);
		await recount();
		batch = await coming;
		if (batch && batch.changes.length > batchSize) batch = await nextReady(boat, batchSize, last);
		// At the end, once more from the start: an answer may not have spoken of all.
		batch ??= await nextReady(boat, batchSize);
	}
}

/** The next changes that wait, ready to be sent; null if there are none. */
async function nextReady(boat: string, limit: number, after?: number): Promise<Batch | null> {
	const changes = await nextBatch(boat, limit, after);
	return changes.length === 0 ? null : { changes, parcel: await parcelOf(bodyOf(changes)) };
}

/** How large the batch after this one may be if this one is quickly taken. */
function grown({ changes }: Batch): number {
	return changes.length >= batchSize ? Math.min(MOST, 2 * batchSize) : batchSize;
}

/** Push a batch, and learn from it how large the next one may be. */
async function pushFitting(boat: string, batch: Batch): Promise<void> {
	const { changes, parcel } = batch;
	const from = Date.now();
	try {
		await pushBatch(boat, changes, parcel);
	} catch (error) {
		batchSize = Math.max(FEWEST, Math.floor(changes.length / 4));
		throw error;
	}
	if (Date.now() - from < FAST_MS) batchSize = grown(batch);
}

async function pushBatch(boat: string, batch: readonly Change[], parcel?: Parcel): Promise<void> {
	try {
		await settleOrTrouble(boat, batch, await post(boat, batch, parcel));
	} catch (error) {
		if (!isAboutContent(error)) throw error;
		if (batch.length === 1) await settle(boat, batch, [refusal(batch[0] as Change, error)]);
		// One change that the server can't even read must not hold up the others: find it.
		else await pushHalves(boat, batch);
	}
}

async function pushHalves(boat: string, batch: readonly Change[]): Promise<void> {
	const middle = Math.ceil(batch.length / 2);
	await pushBatch(boat, batch.slice(0, middle));
	await pushBatch(boat, batch.slice(middle));
}

/**
 * Send changes of a boat; what the server says of each. `parcel` is their body, if it was made
 * ready before. Throws SyncTrouble.
 *
 * A server brought back from a backup that is older than the boat gets the boat's record first,
 * whoever wrote it: its author's phone may be gone.
 */
export async function post(
	boat: string,
	changes: readonly Change[],
	parcel?: Parcel,
): Promise<readonly Verdict[]> {
	try {
		return await postThese(boat, changes, parcel);
	} catch (error) {
		const answer = error instanceof SyncTrouble ? error.answer : null;
		if (answer === null || slugOf(answer) !== "no-such-boat") throw error;
		const first = await readStores(["change", "block"], (tx) => changesOfBoat(tx, boat));
		if (first.length === 0) throw error;
		await postThese(boat, first);
	}
	return postThese(boat, changes, parcel);
}

async function postThese(
	boat: string,
	changes: readonly Change[],
	parcel?: Parcel,
): Promise<readonly Verdict[]> {
	const path = `/api/boats/${encodeURIComponent(boat)}/changes`;
	const answer = await call<{ results?: unknown }>(path, {
		method: "POST",
		parcel: parcel ?? (await parcelOf(bodyOf(changes))),
	});
	if (!Array.isArray(answer?.results)) throw new SyncTrouble("not our server");
	return answer.results as Verdict[];
}

function bodyOf(changes: readonly Change[]): unknown {
	return { schema: SCHEMA, changes };
}

async function settleOrTrouble(
	boat: string,
	batch: readonly Change[],
	verdicts: readonly Verdict[],
): Promise<void> {
	const settled = await settle(boat, batch, verdicts);
	// An answer that speaks of none of them would be asked for for ever.
	if (settled === 0) throw new SyncTrouble("server trouble");
}

/** True when the server could not make sense of what was sent, rather than of who sent it. */
export function isAboutContent(error: unknown): error is SyncTrouble {
	const answer = error instanceof SyncTrouble ? error.answer : null;
	return answer !== null && ["invalid", "unreadable", "too-large"].includes(slugOf(answer));
}

function refusal(change: Change, { answer }: SyncTrouble): Verdict {
	const { title = "", detail = "" } = answer ?? {};
	return { id: change.id, outcome: "rejected", problem: { title, detail } };
}
