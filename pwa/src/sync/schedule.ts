/** When to talk to the server: at good moments, one page at a time, patiently after a failure. */

import { StorageFault, StorageFull } from "../storage/faults.ts";
import { onKept } from "../storage/keep.ts";
import { onOtherLine } from "./metered.ts";
import { syncNow, whenAsked } from "./now.ts";
import { describe, SyncTrouble } from "./problem.ts";
import { noteComplete, photoRound, round } from "./round.ts";
import { forgetPairing, pairings } from "./session.ts";
import { STALLED_MS, whileItMoves } from "./stall.ts";
import { recount, tell } from "./state.ts";

const EVERY_MS = 30_000;
const BASE_MS = 1_000;
const CAP_MS = 60_000;
const FLOOR_MS = 250;
/** Another page of the app is at it; what was kept here may come too late for its round. */
const BUSY_ELSEWHERE_MS = 3_000;
const LOCK = "shedtally-sync";

let running: Promise<void> | null = null;
/** The round that goes on beside photographs. */
let beside: Promise<void> | null = null;
/** The photographs that are under way; one that stood still for good must not end another's. */
let photosUnderWay: object | null = null;
let again = false;
let failures = 0;
let notBefore = 0;
let bySelf = false;
let timer: ReturnType<typeof setTimeout> | undefined;

whenAsked(() => {
	failures = 0;
	notBefore = 0;
	return start();
});

/** Begin to sync by itself; once, after the database is open. */
export function startSchedule(): void {
	bySelf = true;
	onKept(() => {
		void recount();
		void startIfDue();
	});
	addEventListener("online", () => void syncNow());
	onOtherLine(() => void startIfDue());
	addEventListener("offline", () => tell({ online: "no" }));
	document.addEventListener("visibilitychange", () => {
		if (document.visibilityState === "visible") void syncNow();
	});
	setInterval(() => {
		if (document.visibilityState === "visible") void startIfDue();
	}, EVERY_MS);
	void syncNow();
}

/** How long to wait after so many failures: full jitter, so that phones don't knock together. */
export function backoffMs(failed: number, random: () => number): number {
	const longest = Math.min(CAP_MS, BASE_MS * 2 ** Math.min(failed, 16));
	return Math.max(FLOOR_MS, random() * longest);
}

async function startIfDue(): Promise<void> {
	if (Date.now() >= notBefore) await start();
}

function startAfter(ms: number): void {
	clearTimeout(timer);
	if (bySelf) timer = setTimeout(() => void startIfDue(), ms);
}

function start(): Promise<void> {
	if (running && photosUnderWay) return alongside();
	if (running) {
		// What was kept while a round runs may have missed its turn.
		again = true;
		return running;
	}
	// The lock itself may be what does not answer; the round inside is given up before.
	running = whileItMoves(
		alone(() => told(everything)),
		2 * STALLED_MS,
	)
		.catch(() => startAfter(BUSY_ELSEWHERE_MS))
		.finally(() => {
			running = null;
			photosUnderWay = null;
		});
	return running;
}

async function everything(): Promise<SyncTrouble | null> {
	let full: StorageFull | null = null;
	const small = await rounds().catch((error: unknown) => {
		if (!(error instanceof StorageFull)) throw error;
		full = error;
		return null;
	});
	// Also without room to receive anything: photographs that have left can make some.
	const trouble = (await photos()) ?? small;
	if (full) throw full;
	if (!trouble) await noteComplete();
	return trouble;
}

async function rounds(): Promise<SyncTrouble | null> {
	let trouble: SyncTrouble | null;
	do {
		again = false;
		trouble = await round();
	} while (again);
	return trouble;
}

async function photos(): Promise<SyncTrouble | null> {
	const mine = {};
	photosUnderWay = mine;
	try {
		return await photoRound();
	} finally {
		if (photosUnderWay === mine) photosUnderWay = null;
		// The lock is still held here, and must not be given up before these have ended.
		await beside;
	}
}

/** A round while photographs are under way; one at a time, the next one after it. */
function alongside(): Promise<void> {
	if (beside) {
		again = true;
		return beside;
	}
	beside = told(rounds).finally(() => {
		beside = null;
	});
	return beside;
}

/** Do `work` and tell how it went. Never throws. */
async function told(work: () => Promise<SyncTrouble | null>): Promise<void> {
	tell({ running: true });
	const paired = pairings();
	try {
		const trouble = await whileItMoves(work());
		if (trouble) await failed(trouble, paired);
		else failures = 0;
	} catch (error) {
		await failed(error, paired);
	} finally {
		// The storage may be what failed; then the last count has to do.
		await whileItMoves(recount()).catch(() => {});
		tell({ running: work !== everything && photosUnderWay !== null });
	}
}

async function failed(error: unknown, paired: number): Promise<void> {
	const trouble = error instanceof SyncTrouble ? error : null;
	if (trouble?.problem.kind === "pair again" && paired !== pairings()) {
		// It was asked before this phone was paired anew, perhaps while the person typed the code.
		startAfter(FLOOR_MS);
		return;
	}
	failures += 1;
	const wait = Math.max(backoffMs(failures, Math.random), trouble?.retryAfterMs ?? 0);
	notBefore = Date.now() + wait;
	startAfter(wait);
	if (!trouble) {
		if (!(error instanceof StorageFault)) console.error("A round of sync failed", error);
		tell({ problem: describe(error instanceof StorageFault ? "phone storage" : "server trouble") });
		return;
	}
	const { kind } = trouble.problem;
	const away = ["unreachable", "not our server", "stalled"].includes(kind);
	tell({ problem: trouble.problem, online: away ? "no" : "yes" });
	if (kind === "pair again") await forgetPairing().catch(() => {});
}

/** One page of the app talks to the server at a time; the others see the result in the database. */
async function alone(work: () => Promise<void>): Promise<void> {
	const locks = navigator.locks as LockManager | undefined;
	if (!locks) return work();
	await locks.request(LOCK, { ifAvailable: true }, async (lock) => {
		if (lock) await work();
		else startAfter(BUSY_ELSEWHERE_MS);
	});
}
