/** A server in memory that follows the HTTP contract, for the tests of keeping and sending. */
import { createHash } from "node:crypto";
import { type Change, versionOf } from "../domain/change.ts";
import { fold } from "../domain/merge.ts";
import { MAX_AHEAD_MS, millisecondsOf, stampOf } from "../domain/stamp.ts";

interface Logged extends Change {
	readonly cursor: number;
	readonly own_stamp: string | null;
}

interface BoatLog {
	readonly log: Logged[];
	readonly tags: string[];
}

export interface Asked {
	readonly method: string;
	readonly path: string;
	readonly headers: Headers;
	readonly body: unknown;
}

/** What to do with a request before or instead of answering it; undefined answers as usual. */
export type Trap = (asked: Asked) => Response | Promise<Response> | undefined;

/** For `before`: the line accepts the request and never answers. */
export const NEVER = new Promise<Response>(() => {});

const TOO_LARGE = 2_000;

export class FakeServer {
	id = "server-1";
	epoch = "epoch-1";
	ahead_ms = 0;
	paired = new Set<string>();
	boats = new Map<string, BoatLog>();
	photos = new Map<string, ArrayBuffer>();
	previews = new Map<string, ArrayBuffer>();
	/** Whether small copies are taken ahead of photographs. */
	takes_previews = true;
	asked: Asked[] = [];
	/** What is told of other phones that have the asker's changes. */
	copies: unknown[] = [];
	/** Records in a page of a snapshot; null for a server that has none. */
	snapshot_page: number | null = 10_000;
	/** Whether gzipped bodies are taken. */
	gunzips = true;
	/** Called before the request is looked at; may answer in the server's place or throw. */
	before: Trap = () => undefined;
	/** Called after the request has taken effect; may lose the answer by throwing. */
	after: (asked: Asked) => void = () => {};
	/** Says why a change is refused; an empty text takes it. */
	refuse: (change: Change) => string = () => "";

	/** Stands in for `fetch`. */
	readonly fetch = async (path: string, init: RequestInit = {}): Promise<Response> => {
		const method = init.method ?? "GET";
		const headers = new Headers(init.headers);
		const packed = headers.get("Content-Encoding") === "gzip";
		const body = await bodyOf(packed && this.gunzips, init.body);
		const asked: Asked = { method, path, headers, body };
		this.asked.push(asked);
		const instead = this.before(asked);
		if (instead) return Promise.race([instead, aborted(init.signal)]);
		if (packed && !this.gunzips) return problem(415, "wrong-type");
		const answer = this.#answer(asked);
		this.after(asked);
		return answer;
	};

	count(method: string, path: RegExp): number {
		return this.asked.filter((asked) => asked.method === method && path.test(asked.path)).length;
	}

	log(boat: string): readonly Logged[] {
		return this.boats.get(boat)?.log ?? [];
	}

	#answer(asked: Asked): Response {
		const { method, path, headers, body } = asked;
		if (path === "/api/ping") {
			const now_ms = Date.now() + this.ahead_ms;
			return json({ server: this.id, epoch: this.epoch, now_ms, schema: 1, name: "Shed" });
		}
		if (method !== "GET" && headers.get("X-Shedtally") !== "1")
			return problem(403, "not-from-here");
		if (path === "/api/pair") return this.#pair(body as { code: string; device: string });
		if (this.paired.size === 0) return problem(401, "not-paired");
		if (path === "/api/session") return json(this.#session([...this.paired][0] ?? ""));
		if (path === "/api/rules") return this.#rules(headers);
		const photo = /^\/api\/photos\/([0-9a-f]{64})(\/thumbnail|\/preview)?$/.exec(path);
		if (photo) return this.#picture(asked, photo[1] ?? "", photo[2] ?? "");
		const boat = /^\/api\/boats\/([^/]+)\/([^?]+)(?:\?(.*))?$/.exec(path);
		if (boat) return this.#boat(method, boat[1] ?? "", boat[2] ?? "", boat[3] ?? "", body);
		return problem(404, "no-such-page");
	}

	#pair({ code, device }: { code: string; device: string }): Response {
		if (code !== "RIGHT") return problem(403, "pairing-code", "Ask for a new code.");
		this.paired.add(device);
		return json(this.#session(device));
	}

	#session(device: string): unknown {
		const boats = [...this.boats.keys()].map((key) => ({ key, name: key }));
		const sent = [...this.boats.values()].flatMap(({ log }) => log);
		const last_seq = Math.max(
			0,
			...sent.filter((one) => one.device === device).map((one) => one.seq),
		);
		const received = { last_seq, complete_to: last_seq, missing: [], copies: this.copies };
		return { device, name: "phone", server: this.id, boats, ...received };
	}

	#rules(headers: Headers): Response {
		if (headers.get("If-None-Match") === '"1"') return new Response(null, { status: 304 });
		const rules = { version: "1", systems: [], kinds: [], rule_sets: [], materials: [] };
		return json(rules, { ETag: '"1"' });
	}

	#picture({ method, headers, body }: Asked, sha256: string, which: string): Response {
		if (which === "/preview") return this.#preview(method, sha256, headers, body as ArrayBuffer);
		if (method === "PUT" && which) return problem(405, "wrong-method");
		if (method === "PUT") this.photos.set(sha256, body as ArrayBuffer);
		const bytes = this.photos.get(sha256);
		const preview = which && !bytes ? this.previews.get(sha256) : undefined;
		if (!bytes && !preview) return problem(404, "no-such-photo");
		if (method === "PUT") return json({ sha256, bytes: bytes?.byteLength });
		const more = preview && { "X-Shedtally-Preview": "1" };
		return new Response(bytes ?? preview, { headers: { "Content-Type": "image/jpeg", ...more } });
	}

	#preview(method: string, sha256: string, headers: Headers, body: ArrayBuffer): Response {
		if (!this.takes_previews) return problem(404, "no-such-page");
		if (method !== "PUT") return problem(405, "wrong-method");
		const told = headers.get("Content-Digest");
		const digest = createHash("sha256").update(new Uint8Array(body)).digest("base64");
		if (told !== `sha-256=:${digest}:`) return problem(422, "photo-digest");
		const whole = this.photos.has(sha256);
		if (!whole) this.previews.set(sha256, body);
		return json({ sha256, whole });
	}

	#boat(method: string, key: string, what: string, query: string, body: unknown): Response {
		if (method === "POST" && what === "changes") {
			return this.#receive(key, (body as { changes: Change[] }).changes);
		}
		const boat = this.boats.get(key);
		if (!boat) return problem(404, "no-such-boat");
		if (what === "changes") return this.#send(boat, new URLSearchParams(query));
		if (what === "snapshot") return this.#snapshot(boat, new URLSearchParams(query).get("after"));
		const record = /^records\/([^/]+)\/([^/]+)\/history$/.exec(what);
		if (record) {
			const changes = boat.log.filter(({ table, key }) => table === record[1] && key === record[2]);
			return json({ changes: changes.map((change) => ({ ...change, received_ms: 0 })) });
		}
		if (what === "photos/missing") {
			const digests = boat.log.map(({ table, set }) => (table === "photo" ? set.sha256 : null));
			return json({ photos: digests.filter((one) => one && !this.photos.has(String(one))) });
		}
		if (what === "tag-blocks") return this.#tags(boat, (body as { count: number }).count);
		const cursor = boat.log.length;
		return json({ cursor, made_at: "2026-05-04T10:00:00Z", list: { total: cursor } });
	}

	#receive(key: string, changes: readonly Change[]): Response {
		if (changes.length > TOO_LARGE) return problem(413, "too-large");
		const boat = this.boats.get(key) ?? { log: [], tags: [] };
		if (!this.boats.has(key) && !changes.some(({ table }) => table === "boat")) {
			return problem(404, "no-such-boat");
		}
		this.boats.set(key, boat);
		const results = changes.map((change) => this.#judge(boat, change));
		return json({ cursor: boat.log.length, results });
	}

	#judge(boat: BoatLog, change: Change): unknown {
		const { id } = change;
		const known = boat.log.find((logged) => logged.id === id);
		if (known) {
			const same = JSON.stringify(known.set) === JSON.stringify(change.set);
			if (same) return { id, outcome: "repeated", cursor: known.cursor };
			const detail = "another change with this id is already kept";
			return { id, outcome: "rejected", problem: { title: "Refused", detail } };
		}
		const whole = boat.log.find((logged) => logged.id === change.restates);
		if (whole) return { id, outcome: "repeated", cursor: whole.cursor };
		const detail = this.refuse(change);
		if (detail) return { id, outcome: "rejected", problem: { title: "Refused", detail } };
		const cursor = boat.log.length + 1;
		const now = Date.now() + this.ahead_ms;
		const trusted = change.again || change.restates !== undefined;
		const early = trusted || millisecondsOf(change.stamp) <= now + MAX_AHEAD_MS;
		const stamp = early ? change.stamp : stampOf(now, cursor);
		boat.log.push({ ...change, stamp, cursor, own_stamp: early ? null : change.stamp });
		return { id, outcome: "accepted", cursor };
	}

	#send({ log }: BoatLog, query: URLSearchParams): Response {
		const since = Number(query.get("since"));
		const limit = Number(query.get("limit"));
		const last = query.get("last");
		if (since > log.length || (last && log[since - 1]?.id !== last)) {
			return problem(409, "cursor-unknown");
		}
		const found = log.filter(({ cursor }) => cursor > since);
		const changes = found.slice(0, limit);
		const cursor = changes.at(-1)?.cursor ?? since;
		return json({ cursor, last: log[cursor - 1]?.id ?? null, more: found.length > limit, changes });
	}

	#snapshot({ log }: BoatLog, after: string | null): Response {
		if (this.snapshot_page === null) return problem(404, "no-such-page");
		const names = new Set(log.map(({ table, key }) => `${table}/${key}`));
		const left = [...names].sort().filter((name) => name > (after ?? ""));
		const page = left.slice(0, this.snapshot_page);
		const devices = [...new Set(log.map(({ device }) => device))];
		const all: Logged[] = [];
		const numberOf = (id: string): number => {
			const place = all.findIndex((logged) => logged.id === id);
			if (place >= 0) return place + 1;
			const found = log.find((logged) => versionOf(logged)[2] === id);
			if (found) all.push(found);
			return 0;
		};
		const records = page.map((name) => {
			const [table = "", key = ""] = name.split("/");
			const state = fold(log.filter((logged) => logged.table === table && logged.key === key));
			const fields = Object.keys(state.values);
			const by = fields.map((field) => state.versions[field]?.[2] ?? "");
			const versions = new Set(by).size === 1 ? numberOf(by[0] ?? "") : by.map(numberOf);
			const values = fields.map((field) => [state.values[field]]);
			return { table, fields, keys: [key], values, versions: [versions] };
		});
		const times = all.map(({ stamp }) => millisecondsOf(stamp));
		const versions = {
			ms: times.map((ms, at) => ms - (times[at - 1] ?? 0)),
			counters: all.map(({ stamp }) => Number.parseInt(stamp.slice(12), 16)),
			devices: all.map(({ device }) => devices.indexOf(device)),
			changes: all.map((logged) => versionOf(logged)[2].replaceAll("-", "")).join(""),
		};
		const more = left.length > page.length;
		const head = { epoch: this.epoch, cursor: log.length, last: log.at(-1)?.id ?? null, more };
		return json({ ...head, after: page.at(-1) ?? null, records, devices, versions });
	}

	#tags(boat: BoatLog, count: number): Response {
		const first = boat.tags.length;
		const codes = Array.from(
			{ length: count },
			(_, at) => `TAG${String(first + at).padStart(3, "0")}`,
		);
		boat.tags.push(...codes);
		return json({ block: "block", codes });
	}
}

async function bodyOf(packed: boolean, body: unknown): Promise<unknown> {
	if (typeof body === "string") return JSON.parse(body);
	if (!packed) return body instanceof Blob ? body.arrayBuffer() : body;
	const plain = new Blob([body as BlobPart]).stream().pipeThrough(new DecompressionStream("gzip"));
	return new Response(plain).json();
}

/** Rejects when the caller gives up, as `fetch` does. */
function aborted(signal: AbortSignal | null | undefined): Promise<never> {
	return new Promise((_, reject) => {
		if (signal?.aborted) reject(signal.reason);
		signal?.addEventListener("abort", () => reject(signal.reason));
	});
}

export function json(body: unknown, headers: Record<string, string> = {}): Response {
	return new Response(JSON.stringify(body), {
		headers: { "Content-Type": "application/json", ...headers },
	});
}

export function problem(status: number, slug: string, detail = "Why."): Response {
	const body = {
		type: `http://shed/problems/${slug}`,
		title: slug,
		status,
		detail,
		instance: "urn:x",
	};
	return new Response(JSON.stringify(body), {
		status,
		headers: { "Content-Type": "application/problem+json" },
	});
}

export function page(status = 200): Response {
	return new Response("<html><h1>Sign in to this Wi-Fi</h1></html>", {
		status,
		headers: { "Content-Type": "text/html" },
	});
}
