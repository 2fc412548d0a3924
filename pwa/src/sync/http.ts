/** Requests to the server: a time limit on each, and no answer believed that is not its own. */
import { gzipped } from "./gzip.ts";
import { type ServerProblem, SyncTrouble, slugOf, troubleOf } from "./problem.ts";
import { Patience } from "./stall.ts";
import { type Answer, canTell, upload } from "./upload.ts";

export const PING_TIMEOUT_MS = 4_000;
export const CALL_TIMEOUT_MS = 10_000;
export const PHOTO_TIMEOUT_MS = 20_000;

export interface Call {
	readonly method?: "GET" | "POST" | "PUT";
	/** Sent as JSON, packed where both sides can. */
	readonly json?: unknown;
	/** In the place of `json`, where it was made ready ahead of time. */
	readonly parcel?: Parcel;
	/** Sent as it is. */
	readonly body?: { readonly bytes: ArrayBuffer | Blob; readonly type: string };
	/** How long nothing at all may happen, in milliseconds; a slow line that moves may go on. */
	readonly timeoutMs?: number;
	readonly headers?: Readonly<Record<string, string>>;
	/** Told of the bytes of the body that went out so far, as far as the browser says. */
	readonly onSent?: (bytes: number) => void;
}

/** JSON made ready to be sent. */
export interface Parcel {
	readonly text: string;
	/** Null where this browser can't pack, where it isn't worth it, and where the server refuses. */
	readonly packed: Uint8Array<ArrayBuffer> | null;
}

/** Set once the server has refused a packed body; it may be an older one, or a proxy. */
let sendsPlain = false;

/** Make JSON ready to be sent; for a large one that takes as long as sending it. */
export async function parcelOf(json: unknown): Promise<Parcel> {
	const text = JSON.stringify(json);
	return { text, packed: sendsPlain ? null : await gzipped(text) };
}

/** The JSON that the server answers. Throws SyncTrouble, and nothing else. */
export async function call<R>(path: string, options: Call = {}): Promise<R> {
	const answer = await send(path, options);
	return jsonOf(answer) as R;
}

/** The picture that the server answers. Throws SyncTrouble. */
export async function callForBytes(path: string): Promise<Answer> {
	const answer = await send(path, { timeoutMs: PHOTO_TIMEOUT_MS });
	if (!answer.headers.get("Content-Type")?.startsWith("image/")) {
		throw new SyncTrouble("not our server");
	}
	return answer;
}

/** An answer that is no error, read to its end; 304 counts as none. Throws SyncTrouble. */
export async function send(path: string, options: Call): Promise<Answer> {
	const made = options.json === undefined ? undefined : await parcelOf(options.json);
	const parcel = options.parcel ?? made;
	const answer = await answerOrTrouble(path, options, parcel);
	if (isGood(answer)) return answer;
	const problem = problemOf(answer);
	if (parcel?.packed && ["wrong-type", "unreadable"].includes(slugOf(problem))) {
		sendsPlain = true;
		return send(path, { ...options, parcel: { ...parcel, packed: null } });
	}
	throw troubleOf(problem, retryAfterMs(answer));
}

function isGood({ status }: Answer): boolean {
	return (status >= 200 && status < 300) || status === 304;
}

async function answerOrTrouble(
	path: string,
	options: Call,
	parcel: Parcel | undefined,
): Promise<Answer> {
	const request = requestOf(options, parcel);
	const patience = new Patience(options.timeoutMs ?? CALL_TIMEOUT_MS);
	try {
		if (options.body && options.onSent && canTell()) {
			return await patience.within(upload(path, request, patience, options.onSent));
		}
		return await fetched(path, request, patience);
	} catch {
		// The browser does not say whether it was the network, the time limit or the certificate.
		throw new SyncTrouble("unreachable");
	} finally {
		patience.end();
	}
}

async function fetched(path: string, request: RequestInit, patience: Patience): Promise<Answer> {
	// No browser tells how much of a body went out by `fetch`, so a long one gets its time at once.
	patience.allowFor(sizeOf(request.body));
	const answer = await patience.within(fetch(path, { ...request, signal: patience.signal }));
	const { status, headers } = answer;
	return { status, headers, bytes: await patience.read(answer.body) };
}

function requestOf(
	{ method = "GET", body, headers }: Call,
	parcel: Parcel | undefined,
): RequestInit {
	const type = parcel ? "application/json" : body?.type;
	const payload = parcel ? (parcel.packed ?? parcel.text) : body?.bytes;
	return {
		method,
		headers: {
			"X-Shedtally": "1",
			...(type && { "Content-Type": type }),
			...(parcel?.packed && { "Content-Encoding": "gzip" }),
			...headers,
		},
		...(payload !== undefined && { body: payload }),
		credentials: "same-origin",
		cache: "no-store",
		// A sign-in page answers by sending elsewhere; the server never does.
		redirect: "error",
	};
}

/** Bytes of a body, or characters where it is text. */
function sizeOf(body: RequestInit["body"]): number {
	if (typeof body === "string") return body.length;
	if (body instanceof Blob) return body.size;
	return body instanceof ArrayBuffer || body instanceof Uint8Array ? body.byteLength : 0;
}

function isJson({ headers }: Answer): boolean {
	return /^application\/(problem\+)?json\b/.test(headers.get("Content-Type") ?? "");
}

/** The JSON of an answer. Throws SyncTrouble if it is none, or half of it. */
export function jsonOf(answer: Answer): unknown {
	if (!isJson(answer)) throw new SyncTrouble("not our server");
	try {
		return JSON.parse(new TextDecoder().decode(answer.bytes));
	} catch {
		throw new SyncTrouble("not our server");
	}
}

function problemOf(answer: Answer): ServerProblem {
	// A proxy in front of the server speaks HTML while the server is down.
	const known = isJson(answer);
	if (!known && answer.status < 500) throw new SyncTrouble("not our server");
	const body = known ? (jsonOf(answer) as Partial<ServerProblem> | null) : null;
	return {
		type: typeof body?.type === "string" ? body.type : "about:blank",
		title: typeof body?.title === "string" ? body.title : "",
		status: answer.status,
		detail: typeof body?.detail === "string" ? body.detail : "",
	};
}

function retryAfterMs(answer: Answer): number | null {
	const seconds = Number(answer.headers.get("Retry-After") ?? Number.NaN);
	return Number.isFinite(seconds) && seconds >= 0 ? seconds * 1_000 : null;
}
