/** Requests to the server: a time limit on each, and no answer believed that is not its own. */
import { type ServerProblem, SyncTrouble, troubleOf } from "./problem.ts";

export const PING_TIMEOUT_MS = 4_000;
export const CALL_TIMEOUT_MS = 10_000;
export const PHOTO_TIMEOUT_MS = 20_000;

/** A slow line gets one more second for each of these, so that it finishes at all. */
const SLOW_BYTES_PER_S = 20_000;

export interface Call {
	readonly method?: "GET" | "POST" | "PUT";
	/** Sent as JSON. */
	readonly json?: unknown;
	/** Sent as it is. */
	readonly body?: { readonly bytes: ArrayBuffer; readonly type: string };
	readonly timeoutMs?: number;
	readonly headers?: Readonly<Record<string, string>>;
}

/** The JSON that the server answers. Throws SyncTrouble, and nothing else. */
export async function call<R>(path: string, options: Call = {}): Promise<R> {
	const answer = await send(path, options);
	return (await jsonOf(answer)) as R;
}

/** The bytes that the server answers. Throws SyncTrouble. */
export async function callForBytes(path: string): Promise<ArrayBuffer> {
	const answer = await send(path, { timeoutMs: PHOTO_TIMEOUT_MS });
	if (!answer.headers.get("Content-Type")?.startsWith("image/")) {
		throw new SyncTrouble("not our server");
	}
	try {
		return await answer.arrayBuffer();
	} catch {
		throw new SyncTrouble("unreachable");
	}
}

/** An answer that is no error, its body unread; 304 counts as none. Throws SyncTrouble. */
export async function send(path: string, options: Call): Promise<Response> {
	const answer = await fetchOrTrouble(path, options);
	if (answer.ok || answer.status === 304) return answer;
	throw troubleOf(await problemOf(answer), retryAfterMs(answer));
}

async function fetchOrTrouble(path: string, options: Call): Promise<Response> {
	const request = requestOf(options);
	try {
		return await fetch(path, request);
	} catch {
		// The browser does not say whether it was the network, the time limit or the certificate.
		throw new SyncTrouble("unreachable");
	}
}

function requestOf({ method = "GET", json, body, timeoutMs, headers }: Call): RequestInit {
	const type = json === undefined ? body?.type : "application/json";
	const payload = json === undefined ? body?.bytes : JSON.stringify(json);
	const extraMs = ((body?.bytes.byteLength ?? 0) / SLOW_BYTES_PER_S) * 1_000;
	return {
		method,
		headers: { "X-Shedtally": "1", ...(type && { "Content-Type": type }), ...headers },
		...(payload !== undefined && { body: payload }),
		credentials: "same-origin",
		cache: "no-store",
		// A sign-in page answers by sending elsewhere; the server never does.
		redirect: "error",
		signal: AbortSignal.timeout(Math.ceil((timeoutMs ?? CALL_TIMEOUT_MS) + extraMs)),
	};
}

async function jsonOf(answer: Response): Promise<unknown> {
	if (!/^application\/(problem\+)?json\b/.test(answer.headers.get("Content-Type") ?? "")) {
		throw new SyncTrouble("not our server");
	}
	let text: string;
	try {
		text = await answer.text();
	} catch {
		throw new SyncTrouble("unreachable");
	}
	try {
		return JSON.parse(text);
	} catch {
		throw new SyncTrouble("not our server");
	}
}

async function problemOf(answer: Response): Promise<ServerProblem> {
	// A proxy in front of the server speaks HTML while the server is down.
	const isJson = /^application\/(problem\+)?json\b/.test(answer.headers.get("Content-Type") ?? "");
	if (!isJson && answer.status < 500) throw new SyncTrouble("not our server");
	const body = isJson ? ((await jsonOf(answer)) as Partial<ServerProblem> | null) : null;
	return {
		type: typeof body?.type === "string" ? body.type : "about:blank",
		title: typeof body?.title === "string" ? body.title : "",
		status: answer.status,
		detail: typeof body?.detail === "string" ? body.detail : "",
	};
}

function retryAfterMs(answer: Response): number | null {
	const seconds = Number(answer.headers.get("Retry-After") ?? Number.NaN);
	return Number.isFinite(seconds) && seconds >= 0 ? seconds * 1_000 : null;
}
