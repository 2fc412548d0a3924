/**
 * The phones of the simulation, in one process that a Python program drives over stdin and stdout.
 *
 * A phone is a database in memory and, while it runs, the app's modules started afresh on it; a
 * second page of phone "1" is called "1b" and shares its database. A phone has its own clock, its own chance and its own line to the server: every `fetch` is written to
 * stdout as a request and waits for its answer on stdin. A crash takes the modules away at one
 * exact transaction; the database stays as that moment left it.
 *
 *     <- {"id", "phone", "do", "given", "now", "fault"?}   a command
 *     -> {"fetch", "phone", "method", "path", "headers", "body"?}   base64 where it is no text
 *     <- {"answer", "status", "headers", "body"} | {"answer"}   the answer, or none: a failed line
 *     -> {"done", "result" | "error" | "crashed"}
 *
 * The first argument may name lines of the app to break, as JSON.
 */
import "fake-indexeddb/auto";
import { createInterface } from "node:readline";
import { fileURLToPath } from "node:url";
import { build, type Plugin, type Rolldown } from "vite";
import { Handset, Page } from "./simulated-pages.ts";

/** What goes wrong at the `at`-th transaction from now on. */
interface Fault {
	readonly at: number;
	readonly how: "before" | "after" | "full" | "lost";
}

interface Command {
	readonly id: number;
	readonly phone: string;
	readonly do: string;
	readonly given: unknown;
	readonly now: number;
	readonly fault?: Fault | null;
}

/** What a page is started with. */
interface Start {
	readonly seed: number;
	/** Whether the browser has Web Locks; older ones on iPhones have none. */
	readonly locks: boolean;
}

interface Answer {
	readonly answer: number;
	readonly status?: number;
	readonly headers?: Record<string, string>;
	readonly body?: string;
}

interface App {
	readonly start: () => Promise<string>;
	readonly commands: Record<string, (given: unknown) => Promise<unknown>>;
}

type Settle = (news: { result?: unknown; error?: string; crashed?: true }) => void;

const NEVER = new Promise<never>(() => {});
const GLOBALS = [
	"indexedDB",
	"fetch",
	"navigator",
	"BroadcastChannel",
	"Date",
	"crypto",
	"setTimeout",
	"clearTimeout",
	"setInterval",
	"AbortSignal",
	"console",
] as const;

/** Numbers from 0 to 2^32 - 1 that a seed decides (mulberry32, in the public domain). */
function chance(seed: number): () => number {
	let state = seed >>> 0;
	return () => {
		state = (state + 0x6d2b79f5) >>> 0;
		let t = Math.imul(state ^ (state >>> 15), 1 | state);
		t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
		return (t ^ (t >>> 14)) >>> 0;
	};
}

function write(message: unknown): void {
	process.stdout.write(`${JSON.stringify(message)}\n`);
}

/** One start of the app on a phone; over when it crashes. */
class Life extends Page {
	fault: Fault | null = null;
	transactions = 0;
	pending = new Set<Settle>();

	crash(): void {
		this.alive = false;
		crashed = true;
		for (const settle of this.pending) settle({ crashed: true });
		this.pending.clear();
	}

	/** Whether the fault strikes at this transaction. */
	strikes(): boolean {
		this.transactions += 1;
		return this.fault !== null && this.transactions === this.fault.at;
	}
}

let crashed = false;
const waiting = new Map<number, (answer: Answer) => void>();
let fetches = 0;

class Phone {
	readonly name: string;
	readonly handset: Handset;
	now = 0;
	life = new Life();
	app: App | null = null;

	constructor(name: string, handset: Handset) {
		this.name = name;
		this.handset = handset;
	}

	async start(begin: (...globals: unknown[]) => App, locks: boolean): Promise<string> {
		this.life.alive = false;
		this.handset.pages.delete(this.life);
		this.life = new Life();
		this.handset.pages.add(this.life);
		const globals = this.globals(this.life, locks);
		this.app = begin(...GLOBALS.map((name) => globals[name]));
		return this.app.start();
	}

	private globals(life: Life, locks: boolean): Record<(typeof GLOBALS)[number], unknown> {
		const now = () => this.now;
		return {
			indexedDB: { open: (name: string, version: number) => this.open(life, name, version) },
			fetch: (path: string, init: RequestInit) => this.fetch(life, path, init),
			navigator: locks ? { locks: this.handset.locksOf(life) } : {},
			BroadcastChannel: life.channelOn(this.handset),
			Date: class extends Date {
				constructor(...given: [number]) {
					super(...(given.length > 0 ? given : ([now()] as [number])));
				}
				static override now = now;
			},
			crypto: { getRandomValues: (into: Uint8Array) => into.map((_, at) => this.fill(into, at)) },
			setTimeout: () => 0,
			clearTimeout: () => {},
			setInterval: () => 0,
			AbortSignal: { timeout: () => undefined, any: () => undefined },
			console: {
				...console,
				error: (...words: unknown[]) => {
					if (life.alive) write({ alarm: `${this.name}: ${words.map(String).join(" ")}` });
				},
			},
		};
	}

	private fill(into: Uint8Array, at: number): number {
		into[at] = this.handset.random() & 0xff;
		return into[at];
	}

	private open(life: Life, name: string, version: number): IDBOpenDBRequest {
		// A dead app's request is never answered.
		if (!life.alive) return new IDBOpenDBRequest();
		const request = this.handset.storage.open(name, version);
		request.addEventListener("success", () => guard(request.result, life));
		return request;
	}

	private async fetch(life: Life, path: string, init: RequestInit): Promise<Response> {
		if (!life.alive) return NEVER;
		fetches += 1;
		const number = fetches;
		const body = await bodyOf(init.body);
		if (!life.alive) return NEVER;
		write({
			fetch: number,
			phone: this.name,
			method: init.method ?? "GET",
			path,
			headers: Object.fromEntries(new Headers(init.headers)),
			body,
		});
		const answer = await new Promise<Answer>((resolve) => waiting.set(number, resolve));
		if (!life.alive) return NEVER;
		life.listen();
		if (answer.status === undefined) throw new TypeError("failed to fetch");
		const bytes = Buffer.from(answer.body ?? "", "base64");
		const empty = answer.status === 204 || answer.status === 304;
		return new Response(empty ? null : bytes, {
			status: answer.status,
			headers: answer.headers ?? {},
		});
	}
}

async function bodyOf(body: RequestInit["body"]): Promise<string | null> {
	if (body === undefined || body === null) return null;
	return Buffer.from(await new Response(body).arrayBuffer()).toString("base64");
}

/** Let the fault of a life strike the transactions of this connection. */
function guard(db: IDBDatabase, life: Life): void {
	const begin = db.transaction.bind(db);
	db.transaction = (stores, mode, options) => {
		if (!life.alive) throw new DOMException("the phone is off", "InvalidStateError");
		const how = life.strikes() ? life.fault?.how : undefined;
		if (how === "lost") throw new DOMException("the connection was lost", "InvalidStateError");
		if (how === "full" && mode === "readwrite") {
			throw new DOMException("the disk is full", "QuotaExceededError");
		}
		const transaction = begin(stores, mode, options);
		if (how === "after") {
			const { fault } = life;
			// A command that has ended meanwhile was answered: its crash would be nobody's.
			transaction.addEventListener("complete", () => life.fault === fault && life.crash());
		}
		if (how === "before") {
			// Whatever it does before the crash, an uncommitted transaction leaves nothing behind.
			life.crash();
			transaction.abort();
		}
		return transaction;
	};
}

/** A line of the app to be broken on purpose, to see the simulation notice. */
interface Break {
	readonly file: string;
	readonly line: string;
	readonly instead: string;
}

function breaking(breaks: readonly Break[]): Plugin {
	return {
		name: "breaking",
		transform(code, id) {
			let broken = code;
			for (const { file, line, instead } of breaks) {
				if (!id.endsWith(file)) continue;
				if (!code.includes(line)) throw new Error(`${file} has no line "${line}"`);
				broken = broken.replace(line, instead);
			}
			return broken === code ? null : broken;
		},
	};
}

async function bundle(): Promise<(...globals: unknown[]) => App> {
	const entry = fileURLToPath(new URL("simulated-phone.ts", import.meta.url));
	const built = (await build({
		root: fileURLToPath(new URL("../..", import.meta.url)),
		configFile: false,
		logLevel: "error",
		plugins: [{ ...breaking(JSON.parse(process.argv[2] ?? "[]")), enforce: "pre" }],
		build: {
			write: false,
			minify: false,
			target: "esnext",
			lib: { entry, formats: ["iife"], name: "phone" },
		},
	})) as Rolldown.RolldownOutput[];
	const code = built[0]?.output[0].code ?? "";
	return new Function(...GLOBALS, `${code}\nreturn phone;`) as (...globals: unknown[]) => App;
}

const begin = await bundle();
const phones = new Map<string, Phone>();

function phoneFor({ phone, given }: Command): Phone {
	const known = phones.get(phone);
	if (known) return known;
	const first = phones.get(phone.replace("b", ""));
	const seed = (given as Start | null)?.seed ?? 0;
	const made = new Phone(phone, first?.handset ?? new Handset(chance(seed)));
	phones.set(phone, made);
	return made;
}

async function obey(command: Command): Promise<unknown> {
	const { do: name, given } = command;
	if (name === "reset") {
		for (const { life } of phones.values()) life.alive = false;
		phones.clear();
		waiting.clear();
		crashed = false;
		return null;
	}
	const phone = phoneFor(command);
	phone.now = command.now;
	if (name === "clock") return null;
	if (name === "drop") return phone.life.crash();
	const starts = name === "start" ? phone.start(begin, (given as Start).locks) : null;
	const { life } = phone;
	life.listen();
	const asked = starts ?? phone.app?.commands[name]?.(given);
	life.transactions = 0;
	life.fault = command.fault ?? null;
	return new Promise((resolve) => {
		const settle: Settle = (news) => {
			life.pending.delete(settle);
			life.fault = null;
			resolve(news);
		};
		life.pending.add(settle);
		asked?.then(
			(result) => life.alive && settle({ result }),
			(error: unknown) => life.alive && settle({ error: `${(error as Error).name}: ${error}` }),
		);
	});
}

process.on("unhandledRejection", (reason) => {
	// What a dead app leaves behind, nobody is there to catch.
	if (!crashed) write({ alarm: `unhandled: ${String(reason)}` });
});
write({ ready: true });
for await (const line of createInterface({ input: process.stdin })) {
	const message = JSON.parse(line) as Command | Answer;
	if ("answer" in message) {
		waiting.get(message.answer)?.(message);
		waiting.delete(message.answer);
	} else {
		void obey(message).then((news) => write({ done: message.id, ...(news as object | null) }));
	}
}
