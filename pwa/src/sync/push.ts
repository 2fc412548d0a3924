/** Changes to the server, in batches; each leaves the phone's outbox only by its own answer. */
import type { Change } from "../domain/change.ts";
import { boatsWaiting, nextBatch, settle, type Verdict } from "../storage/outbox.ts";
import { call } from "./http.ts";
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

async function pushBoat(boat: string): Promise<void> {
	let batch = await nextBatch(boat, batchSize);
	while (batch.length > 0) {
		await pushFitting(boat, batch);
		await recount();
		const ahead = await nextBatch(boat, batchSize, batch.at(-1)?.seq);
		// At the end, once more from the start: an answer may not have spoken of all.
		batch = ahead.length > 0 ? ahead : await nextBatch(boat, batchSize);
	}
}

/** Push a batch, and learn from it how large the next one may be. */
async function pushFitting(boat: string, batch: readonly Change[]): Promise<void> {
	const from = Date.now();
	try {
		await pushBatch(boat, batch);
	} catch (error) {
		batchSize = Math.max(FEWEST, Math.floor(batch.length / 4));
		throw error;
	}
	const wasFull = batch.length >= batchSize;
	if (wasFull && Date.now() - from < FAST_MS) batchSize = Math.min(MOST, 2 * batchSize);
}

async function pushBatch(boat: string, batch: readonly Change[]): Promise<void> {
	try {
		await settleOrTrouble(boat, batch, await post(boat, batch));
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

/** Send changes of a boat; what the server says of each. Throws SyncTrouble. */
export async function post(boat: string, changes: readonly Change[]): Promise<readonly Verdict[]> {
	const path = `/api/boats/${encodeURIComponent(boat)}/changes`;
	const answer = await call<{ results?: unknown }>(path, {
		method: "POST",
		json: { schema: SCHEMA, changes },
	});
	if (!Array.isArray(answer?.results)) throw new SyncTrouble("not our server");
	return answer.results as Verdict[];
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
