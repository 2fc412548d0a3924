/**
 * Ends a request on a line that accepts everything and never answers.
 *
 * The limit is on silence and not on the whole: a slow line that moves finishes at last, and a
 * dead one is given up after the same few seconds, whatever the size.
 */

import { SyncTrouble } from "./problem.ts";

/** A slow line gets one more second for each of these where nobody tells how far it has come. */
const SLOW_BYTES_PER_S = 20_000;

/** A round that does nothing at all for as long as this, with no request open, is given up. */
export const STALLED_MS = 30_000;
const LOOK_EVERY_MS = 5_000;

/** Requests that are open; each of them ends by its own time limit. */
let open = 0;
/** Grows with every beginning and end of a request. */
let signs = 0;

export class Patience {
	readonly signal: AbortSignal;
	readonly #control = new AbortController();
	readonly #silenceMs: number;
	readonly #givenUp: Promise<never>;
	#timer: ReturnType<typeof setTimeout> | undefined;
	#ended = false;

	/** Gives up after `silenceMs` milliseconds in which nothing happened. */
	constructor(silenceMs: number) {
		this.signal = this.#control.signal;
		this.#silenceMs = silenceMs;
		this.#givenUp = new Promise((_, reject) => {
			this.signal.addEventListener("abort", () => reject(this.signal.reason), { once: true });
		});
		this.#givenUp.catch(() => {});
		open += 1;
		signs += 1;
		this.#wait(silenceMs);
	}

	/**
	 * What `work` comes to, but no later than this gives up.
	 *
	 * Aborting alone is not enough: a browser may leave what was aborted without an end.
	 */
	within<R>(work: Promise<R>): Promise<R> {
		return Promise.race([work, this.#givenUp]);
	}

	/** Something moved: wait as long again. */
	moved(): void {
		this.#wait(this.#silenceMs);
	}

	/** Wait for `bytes` to go out unseen. */
	allowFor(bytes: number): void {
		this.#wait(this.#silenceMs + (bytes / SLOW_BYTES_PER_S) * 1_000);
	}

	/** It is over, one way or the other. */
	end(): void {
		clearTimeout(this.#timer);
		if (this.#ended) return;
		this.#ended = true;
		open -= 1;
		signs += 1;
	}

	/** All that comes out of a stream; throws if it falls silent or breaks. */
	async read(stream: ReadableStream<Uint8Array> | null): Promise<ArrayBuffer> {
		this.moved();
		const reader = stream?.getReader();
		const parts: Uint8Array[] = [];
		while (reader) {
			const { done, value } = await this.within(reader.read());
			if (done) break;
			this.moved();
			parts.push(value);
		}
		return joined(parts);
	}

	#wait(ms: number): void {
		clearTimeout(this.#timer);
		this.#timer = setTimeout(() => this.#control.abort(new Error("nothing moved")), ms);
	}
}

/** By hand: a Blob may go through another process of the browser, which need not answer. */
function joined(parts: readonly Uint8Array[]): ArrayBuffer {
	const all = new Uint8Array(parts.reduce((sum, { byteLength }) => sum + byteLength, 0));
	let at = 0;
	for (const part of parts) {
		all.set(part, at);
		at += part.byteLength;
	}
	return all.buffer;
}

/**
 * What `work` comes to; throws SyncTrouble once it stands still for good outside of any request:
 * storage that does not answer, a lock of the browser, a stream.
 *
 * Counted in looks and not by the clock, because a phone that sleeps stops timers and work alike.
 */
export async function whileItMoves<R>(work: Promise<R>, stalledMs = STALLED_MS): Promise<R> {
	let timer: ReturnType<typeof setTimeout> | undefined;
	const stalled = new Promise<never>((_, reject) => {
		let still = 0;
		let before = signs;
		const look = (): void => {
			still = open === 0 && signs === before ? still + LOOK_EVERY_MS : 0;
			before = signs;
			if (still >= stalledMs) reject(new SyncTrouble("stalled"));
			else timer = setTimeout(look, LOOK_EVERY_MS);
		};
		timer = setTimeout(look, LOOK_EVERY_MS);
	});
	try {
		return await Promise.race([work, stalled]);
	} finally {
		clearTimeout(timer);
	}
}
