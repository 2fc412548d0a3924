/**
 * Why the phone and the server could not talk, in words for the person.
 *
 * The server's errors are problem details (RFC 9457); the phone looks at their `type` only, and at
 * the status where it does not know the type. Nothing here ever loses work: it says why it waits.
 */

export type ProblemKind =
	| "unreachable"
	| "not our server"
	| "other server"
	| "not paired"
	| "pair again"
	| "refused"
	| "busy"
	| "server full"
	| "server trouble"
	| "reload"
	| "stalled"
	| "phone storage";

export interface SyncProblem {
	readonly kind: ProblemKind;
	/** What happened. */
	readonly happened: string;
	/** What is safe. */
	readonly safe: string;
	/** What to do. */
	readonly todo: string;
}

/** An error body of the server, as far as it could be read. */
export interface ServerProblem {
	readonly type: string;
	readonly title: string;
	readonly status: number;
	readonly detail: string;
}

const KEPT = "Everything you kept is safe on this phone.";

const SAY: Readonly<Record<ProblemKind, readonly [happened: string, todo: string]>> = {
	unreachable: [
		"The server can't be reached from here.",
		"Carry on; it is sent by itself when there is a signal.",
	],
	"not our server": [
		"Something answered, but it is not the shed's server. It may be a sign-in page of the Wi-Fi.",
		"Sign in to the Wi-Fi or choose another network, then try again.",
	],
	"other server": [
		"Another Shedtally server answers at this address, so nothing was sent to it.",
		"If that is intended, pair this phone with it; what waits is then sent there.",
	],
	"not paired": [
		"This phone does not belong to a server yet.",
		"Pair it with the code that the server shows; what waits is then sent.",
	],
	"pair again": [
		"The server no longer knows this phone.",
		"Ask for a new pairing code and pair again; what waits is then sent.",
	],
	refused: ["The server refused this.", "Read why below, mend it and send it again."],
	busy: ["The server is busy.", "Nothing to do; it is tried again shortly."],
	"server full": [
		"The server's disk is full, so it takes nothing more.",
		"Free space on the server; what waits is then sent.",
	],
	"server trouble": [
		"The server answered with a fault of its own.",
		"It is tried again by itself. If this stays, look at the server.",
	],
	reload: [
		"The server has a newer version than this phone.",
		"Load the new version when it is offered; until then carry on.",
	],
	stalled: [
		"This phone stood still in the middle of sending.",
		"It is tried again by itself. If this stays, close the app completely and open it again.",
	],
	"phone storage": [
		"The phone's storage did not take what the server sent.",
		"Free some space on the phone, close the app and open it again.",
	],
};

/** The words for a kind of problem; `detail` replaces what to do where the server said it better. */
export function describe(kind: ProblemKind, detail?: string): SyncProblem {
	const [happened, todo] = SAY[kind];
	return { kind, happened, safe: KEPT, todo: detail || todo };
}

/**
 * What happened, and what to do about it, where a person asked the server for something: nothing of
 * that waits on the phone to be sent later.
 */
export function askedInVain({ kind, happened, todo }: SyncProblem): string {
	return `${happened} ${kind === "unreachable" ? "Try again where there is a signal." : todo}`;
}

/** Raised by everything in `sync/`; carries what to tell, and when trying again makes sense. */
export class SyncTrouble extends Error {
	override readonly name = "SyncTrouble";
	readonly problem: SyncProblem;
	/** What the server said, where it was the server that refused. */
	readonly answer: ServerProblem | null;
	readonly retryAfterMs: number | null;

	constructor(
		kind: ProblemKind,
		answer: ServerProblem | null = null,
		retryAfterMs: number | null = null,
	) {
		const problem = describe(kind, answer?.detail);
		super(`${problem.happened} ${problem.safe} ${problem.todo}`);
		this.problem = problem;
		this.answer = answer;
		this.retryAfterMs = retryAfterMs;
	}

	/** True when the server judged this very request and would judge it so again. */
	get isRefusal(): boolean {
		return this.problem.kind === "refused";
	}
}

/** The last part of a problem's type, which names it: `pairing-code`, `not-paired` ... */
export function slugOf(problem: ServerProblem): string {
	return problem.type.split(/[/#]/).at(-1) ?? "";
}

/** True where the picture changed between the phone and the server; the next try may go well. */
export function wasDamagedOnTheWay({ answer }: SyncTrouble): boolean {
	return answer !== null && ["photo-cut-short", "photo-digest"].includes(slugOf(answer));
}

/** What an error answer means for the phone. */
export function troubleOf(problem: ServerProblem, retryAfterMs: number | null): SyncTrouble {
	return new SyncTrouble(kindOf(problem), problem, retryAfterMs);
}

/** The kind of an error answer, by its type where that says more than its status. */
export function kindOf(problem: ServerProblem): ProblemKind {
	const { status } = problem;
	if (slugOf(problem) === "client-too-old") return "reload";
	if (status === 401) return "pair again";
	if (status === 426) return "reload";
	if (status === 408 || status === 425 || status === 429 || status === 503) return "busy";
	if (status === 507) return "server full";
	return status >= 500 ? "server trouble" : "refused";
}
