/// <reference lib="webworker" />
/** Shrinks pictures away from the page, so that the screen stays quick. */

import type { KeptPhoto } from "../storage/photos.ts";
import { PictureFault, type PictureProblem } from "./faults.ts";
import { pictureFromBitmap, pictureFromFile } from "./picture.ts";

declare const self: DedicatedWorkerGlobalScope;

export interface ShrinkRequest {
	readonly id: number;
	readonly picture: Blob | ImageBitmap;
}

export type ShrinkAnswer =
	| { readonly id: number; readonly photo: KeptPhoto }
	| { readonly id: number; readonly problem: PictureProblem };

let queue: Promise<void> = Promise.resolve();

self.addEventListener("message", (event: MessageEvent<ShrinkRequest>) => {
	queue = queue.then(() => shrinkOne(event.data));
});

async function shrinkOne({ id, picture }: ShrinkRequest): Promise<void> {
	try {
		const photo = await (picture instanceof Blob
			? pictureFromFile(picture)
			: pictureFromBitmap(picture));
		const answer: ShrinkAnswer = { id, photo };
		self.postMessage(answer, [photo.bytes, photo.thumbnail]);
	} catch (error) {
		const problem = error instanceof PictureFault ? error.problem : "no memory";
		self.postMessage({ id, problem } satisfies ShrinkAnswer);
	}
}
