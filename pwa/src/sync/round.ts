/**
 * One round of talk with the server: changes out, changes in; and apart from it, photographs.
 *
 * The two go side by side, so that a slow photograph never delays a change.
 */

import type { RulesForPhone } from "../domain/rules.ts";
import { MAX_AHEAD_MS, millisecondsOf, stampOf } from "../domain/stamp.ts";
import { writeStores } from "../storage/db.ts";
import { StorageFull } from "../storage/faults.ts";
import { boat, showMissed } from "../storage/memory.ts";
import { getMeta, noteMeta, putMeta, readMeta, writeMeta } from "../storage/meta.ts";
import { keepRules, rulesMark } from "../storage/rules.ts";
import { call, jsonOf, PING_TIMEOUT_MS, send } from "./http.ts";
import { listsAreOlderThan, refreshLists } from "./lists.ts";
import { offerMissing } from "./missing.ts";
import { offerOthers } from "./offer.ts";
import { pushPhotos } from "./photos.ts";
import { pullFullPhotos, pullThumbnails, renewPreviews } from "./pictures.ts";
import { describe, SyncTrouble } from "./problem.ts";
import { isOtherLog, pullChanges } from "./pull.ts";
import { pushChanges, SCHEMA } from "./push.ts";
import { resendAll } from "./restore.ts";
import { refreshSession, session } from "./session.ts";
import { syncState, tell } from "./state.ts";
import { refillReserve } from "./tags.ts";

interface Pong {
	readonly server: string;
	readonly epoch: string;
	readonly now_ms: number;
	readonly schema: number;
}

/**
 * Send and receive everything that is small. Throws SyncTrouble or StorageFault when it can't go on.
 *
 * Returns what a single part was refused, if the others went through all the same.
 */
export async function round(): Promise<SyncTrouble | null> {
	await showMissed();
	const { schema } = await greet();
	const { paired, server } = session.value;
	if (server === null) throw new SyncTrouble("not paired");
	if (!paired) throw new SyncTrouble("pair again");
	await refreshSession();
	await sayAgainAndSend();
	await believeClock();
	const of = boat.key.value;
	const cursor = of === null ? null : await pullOrReadAnew(of);
	const trouble = await eachOnItsOwn([
		refreshRules,
		refillReserve,
		async () => {
			if (cursor !== null && listsAreOlderThan(cursor)) await refreshLists();
		},
	]);
	if (!trouble) tell({ problem: schema > SCHEMA ? describe("reload") : null });
	return trouble;
}

/** A server whose log is another than before, without saying so, gets all that this phone has. */
async function pullOrReadAnew(of: string): Promise<number> {
	try {
		return await pullChanges(of);
	} catch (error) {
		if (!isOtherLog(error)) throw error;
	}
	await resendAll();
	await sayAgainAndSend();
	return pullChanges(of);
}

/**
 * What a lost log had comes before what is new: an edit of a clock that the server takes to be
 * ahead is put right to lie above what the server has, which must be all that its author had seen.
 */
async function sayAgainAndSend(): Promise<void> {
	let full: StorageFull | null = null;
	await offerOthers().catch((error: unknown) => {
		if (!(error instanceof StorageFull)) throw error;
		full = error;
	});
	await pushChanges();
	if (full) throw full;
}

/**
 * Send and receive photographs. Throws and returns like `round`; may take hours on a slow line,
 * so that rounds must go on meanwhile.
 */
export async function photoRound(): Promise<SyncTrouble | null> {
	return eachOnItsOwn([offerMissing, pushPhotos, pullThumbnails, renewPreviews, pullFullPhotos]);
}

/** Note that everything was sent and received, unless photographs wait for another line. */
export async function noteComplete(): Promise<void> {
	if (syncState.value.pausedForMetered) return;
	const now = Date.now();
	await noteMeta("last_synced_at", now);
	tell({ lastSyncedAt: now });
}

/** What one of these is refused must not stop the others; a line that fails stops them all. */
async function eachOnItsOwn(tasks: readonly (() => Promise<void>)[]): Promise<SyncTrouble | null> {
	let first: SyncTrouble | null = null;
	for (const task of tasks) {
		try {
			await task();
		} catch (error) {
			const isItsOwn =
				error instanceof SyncTrouble &&
				(error.isRefusal || error.problem.kind === "server trouble");
			if (!isItsOwn) throw error;
			first ??= error;
		}
	}
	return first;
}

/** Make sure that it is our server, measure its clock, and notice a restored backup. */
async function greet(): Promise<Pong> {
	const before = Date.now();
	const pong = await call<Partial<Pong> | null>("/api/ping", { timeoutMs: PING_TIMEOUT_MS });
	const after = Date.now();
	if (!isPong(pong)) throw new SyncTrouble("not our server");
	const { server } = session.value;
	if (server !== null && server !== pong.server) throw new SyncTrouble("other server");
	const offset = Math.round(pong.now_ms - (before + after) / 2);
	await noteMeta("clock_offset_ms", offset);
	tell({ online: "yes", clockOffsetMs: offset });
	const epoch = await readMeta("epoch");
	if (epoch !== undefined && epoch !== pong.epoch) await resendAll();
	if (epoch !== pong.epoch) await writeMeta("epoch", pong.epoch);
	return pong;
}

function isPong(pong: Partial<Pong> | null): pong is Pong {
	return (
		typeof pong?.server === "string" &&
		typeof pong.epoch === "string" &&
		typeof pong.now_ms === "number" &&
		typeof pong.schema === "number"
	);
}

/**
 * Bring a clock back that ran years ahead before the server's time was known.
 *
 * Once nothing waits, the server has put every stamp of this phone right, none later than its
 * own time and the margin, so starting from there still wins over all that this phone has seen.
 */
async function believeClock(): Promise<void> {
	await writeStores(["meta", "outbox"], async (tx) => {
		const clock = await getMeta(tx, "clock");
		const latest = Date.now() + ((await getMeta(tx, "clock_offset_ms")) ?? 0) + MAX_AHEAD_MS;
		if (!clock || millisecondsOf(clock) <= latest) return;
		if ((await tx.objectStore("outbox").count()) === 0) await putMeta(tx, "clock", stampOf(latest));
	});
}

async function refreshRules(): Promise<void> {
	const mark = rulesMark();
	const answer = await send("/api/rules", { headers: mark ? { "If-None-Match": mark } : {} });
	if (answer.status === 304) return;
	await keepRules(jsonOf(answer) as RulesForPhone, answer.headers.get("ETag") ?? "");
}
