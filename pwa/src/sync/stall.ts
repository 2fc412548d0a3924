/**
 * Ends a request on a line that accepts everything and never answers.
 *
 * The limit is on silence and not on the whole: a slow line that moves finishes at last, and a
 * dead one is given up after the same few seconds, whatever the size.
 */

/** A slow line gets one more second for each of these where nobody tells how far it has come. */
const SLOW_BYTES_PER_S = 20_000;

export class Patience {
	readonly signal: AbortSignal;
	readonly #control = new AbortController();
	readonly #silenceMs: number;
	readonly #givenUp: Promise<never>;
	#timer: ReturnType<typeof setTimeout> | undefined;

	/** Gives up after `silenceMs` milliseconds in which nothing happened. */
	constructor(silenceMs: number) {
		this.signal = this.#control.signal;
		this.#silenceMs = silenceMs;
		this.#givenUp = new Promise((_, reject) => {
			this.signal.addEventListener("abort", () => reject(this.signal.reason), { once: true });
		});
		this.#givenUp.catch(() => {});
		this.#wait(silenceMs);
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
	}

	/** The whole body of an answer; throws if the line falls silent or breaks. */
	async read(answer: Response): Promise<ArrayBuffer> {
		this.moved();
		const reader = answer.body?.getReader();
		if (!reader) return new ArrayBuffer(0);
		const parts: Uint8Array<ArrayBuffer>[] = [];
		for (;;) {
			const { done, value } = await Promise.race([reader.read(), this.#givenUp]);
			if (done) break;
			this.moved();
			parts.push(value as Uint8Array<ArrayBuffer>);
		}
		return parts.length === 1 && parts[0]?.byteLength === parts[0]?.buffer.byteLength
			? (parts[0] as Uint8Array<ArrayBuffer>).buffer
			: new Blob(parts).arrayBuffer();
	}

	#wait(ms: number): void {
		clearTimeout(this.#timer);
		this.#timer = setTimeout(() => this.#control.abort(new Error("nothing moved")), ms);
	}
}
