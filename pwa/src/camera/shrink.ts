/** Gives pictures to the worker that shrinks them, or shrinks them here where there is none. */
import type { KeptPhoto } from "../storage/photos.ts";
import { PictureFault } from "./faults.ts";
import { pictureFromBitmap, pictureFromFile } from "./picture.ts";
import type { ShrinkAnswer, ShrinkRequest } from "./shrink.worker.ts";

interface Waiter {
	readonly resolve: (photo: KeptPhoto) => void;
	readonly reject: (error: PictureFault) => void;
}

const waiters = new Map<number, Waiter>();
let worker: Worker | null = null;
let lastId = 0;

/** A picture file, shrunk and ready to keep. Throws PictureFault. */
export function shrink(file: Blob): Promise<KeptPhoto> {
	return canUseWorker() ? ask(file, []) : pictureFromFile(file);
}

/** A picture of the camera, shrunk and ready to keep; the bitmap is used up. Throws PictureFault. */
export function shrinkBitmap(bitmap: ImageBitmap): Promise<KeptPhoto> {
	return canUseWorker() ? ask(bitmap, [bitmap]) : pictureFromBitmap(bitmap);
}

function canUseWorker(): boolean {
	return typeof Worker !== "undefined" && typeof OffscreenCanvas !== "undefined";
}

function ask(picture: Blob | ImageBitmap, transfer: Transferable[]): Promise<KeptPhoto> {
	worker ??= startWorker();
	const id = ++lastId;
	const asked: ShrinkRequest = { id, picture };
	return new Promise((resolve, reject) => {
		waiters.set(id, { resolve, reject });
		worker?.postMessage(asked, transfer);
	});
}

function startWorker(): Worker {
	const started = new Worker(new URL("./shrink.worker.ts", import.meta.url), { type: "module" });
	started.addEventListener("message", (event: MessageEvent<ShrinkAnswer>) => {
		const waiter = waiters.get(event.data.id);
		waiters.delete(event.data.id);
		if ("photo" in event.data) waiter?.resolve(event.data.photo);
		else waiter?.reject(new PictureFault(event.data.problem));
	});
	started.addEventListener("error", () => {
		// It died, most likely of too little memory; the next picture starts another.
		worker = null;
		for (const { reject } of waiters.values()) reject(new PictureFault("no memory"));
		waiters.clear();
	});
	return started;
}
