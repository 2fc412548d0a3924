/** Changes to the server, in batches; each leaves the phone's outbox only by its own answer. */
import type { Change } from "../domain/change.ts";
import { boatsWaiting, nextBatch, settle, type Verdict } from "../storage/outbox.ts";
import { call } from "./http.ts";
import { SyncTrouble, slugOf } from "./problem.ts";
import { recount } from "./state.ts";

export const SCHEMA = 1;
const BATCH = 500;

/** Send every change that waits, of every boat. Throws SyncTrouble. */
export async function pushChanges(): Promise<void> {
	for (const boat of await boatsWaiting()) await pushBoat(boat);
}

async function pushBoat(boat: string): Promise<void> {
	let batch = await nextBatch(boat, BATCH);
	while (batch.length > 0) {
		// Read while the line is busy; what is settled meanwhile lies before it.
		const next = nextBatch(boat, BATCH, batch.at(-1)?.seq);
		await Promise.all([next, pushBatch(boat, batch)]);
		await recount();
		const ahead = await next;
		// At the end, once more from the start: an answer may not have spoken of all.
		batch = ahead.length > 0 ? ahead : await nextBatch(boat, BATCH);
	}
}

async function pushBatch(boat: string, batch: readonly Change[]): Promise<void> {
	try {
		await settleOrTrouble(boat, batch, await post(boat, batch));
	} catch (error) {
		if (!(error instanceof SyncTrouble) || !isAboutContent(error)) throw error;
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

async function post(boat: string, changes: readonly Change[]): Promise<readonly Verdict[]> {
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
function isAboutContent({ answer }: SyncTrouble): boolean {
	return answer !== null && ["invalid", "unreadable", "too-large"].includes(slugOf(answer));
}

function refusal(change: Change, { answer }: SyncTrouble): Verdict {
	const { title = "", detail = "" } = answer ?? {};
	return { id: change.id, outcome: "rejected", problem: { title, detail } };
}
