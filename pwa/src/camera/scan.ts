/** Looks for tags in the camera's picture until told to stop. */
import { BadCode, fromScan } from "../domain/tag.ts";
import { type Frames, framesOf } from "./frames.ts";
import type { ScanAnswer, ScanRequest } from "./scan.worker.ts";

const FRAME_MS = 100;
/** The same code in two frames; a single one may be a misreading. */
const SIGHTINGS = 2;
/** After this long without a sighting, the code in the picture counts as a new one. */
const FORGET_MS = 1_500;

let worker: Worker | null = null;

/** Load and try the decoder before it is needed. Never throws. */
export function warmUp(): Promise<boolean> {
	return ask({ do: "warm up" }, []).then((answer) => answer.did === "warm up" && answer.ready);
}

/**
 * Call `onCode` with each tag code that is seen, once while it stays in the picture.
 *
 * `onOther` gets a sentence for the person when the code is of something else. Returns the
 * function that stops it.
 */
export function startScan(
	video: HTMLVideoElement,
	onCode: (code: string) => void,
	onOther: (why: string) => void = () => {},
): () => void {
	let over = false;
	const watch = watcher(onCode, onOther);
	const frames = framesOf(video);
	const loop = async (): Promise<void> => {
		for (let frame = 0; !over; frame++) {
			const began = performance.now();
			const texts = document.visibilityState === "visible" ? await look(frames, frame) : [];
			if (over) return;
			watch(texts, performance.now());
			await pause(Math.max(0, FRAME_MS - (performance.now() - began)));
		}
	};
	void loop();
	return () => {
		over = true;
	};
}

/** Turns what each frame shows into one call a code; for `startScan` and its tests. */
export function watcher(
	onCode: (code: string) => void,
	onOther: (why: string) => void,
): (texts: readonly string[], now_ms: number) => void {
	const seen = new Map<string, { times: number; last_ms: number }>();
	return (texts, now_ms) => {
		for (const [text, { last_ms }] of seen) if (now_ms - last_ms > FORGET_MS) seen.delete(text);
		for (const text of new Set(texts)) {
			const times = (seen.get(text)?.times ?? 0) + 1;
			seen.set(text, { times, last_ms: now_ms });
			if (times === SIGHTINGS) report(text, onCode, onOther);
		}
	};
}

function report(
	text: string,
	onCode: (code: string) => void,
	onOther: (why: string) => void,
): void {
	let code: string;
	try {
		code = fromScan(text);
	} catch (error) {
		if (!(error instanceof BadCode)) throw error;
		onOther(error.message);
		return;
	}
	onCode(code);
}

async function look(frames: Frames, frame: number): Promise<readonly string[]> {
	// A centre cut shows a far tag larger; the whole picture finds one at its edge.
	const image = frames.take(frame % 2 === 0 ? "centre" : "whole");
	if (!image) return [];
	const native = await frames.readNatively();
	if (native.length > 0) return native;
	const answer = await ask({ do: "read", frame, image }, [image.data.buffer]);
	return answer.did === "read" ? answer.texts : [];
}

function ask(request: ScanRequest, transfer: Transferable[]): Promise<ScanAnswer> {
	const asked = theWorker();
	return new Promise((resolve) => {
		const wanted = request.do;
		const hear = (event: MessageEvent<ScanAnswer>): void => {
			if (event.data.did === wanted) done(event.data);
		};
		const fail = (): void => {
			if (worker === asked) worker = null;
			done(wanted === "read" ? { did: "read", texts: [] } : { did: "warm up", ready: false });
		};
		const done = (answer: ScanAnswer): void => {
			asked.removeEventListener("message", hear);
			asked.removeEventListener("error", fail);
			resolve(answer);
		};
		asked.addEventListener("message", hear);
		asked.addEventListener("error", fail);
		asked.postMessage(request, transfer);
	});
}

function theWorker(): Worker {
	worker ??= new Worker(new URL("./scan.worker.ts", import.meta.url), { type: "module" });
	return worker;
}

function pause(ms: number): Promise<void> {
	return new Promise((resolve) => setTimeout(resolve, ms));
}
