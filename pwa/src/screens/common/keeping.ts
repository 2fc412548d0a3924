/** Keeping from a screen: what could not be kept comes back as a sentence to show beside it. */
import { type ReadonlySignal, signal } from "@preact/signals";
import { type Edit, keep, StorageFault } from "../../storage/boat.ts";
import type { KeptPhoto } from "../../storage/photos.ts";

const last = signal<Date | null>(null);

/** When something was last kept on this phone since the app was opened. */
export const keptAt: ReadonlySignal<Date | null> = last;

/** Keep edits; null when they are on the phone, else what happened, what is safe, what to do. */
export async function keepOrSay(
	edits: readonly Edit[],
	photos: readonly KeptPhoto[] = [],
): Promise<string | null> {
	return faultOf(() => keep(edits, photos));
}

/** Do something that keeps by itself, like taking out of the bin; null when it is on the phone. */
export async function faultOf(work: () => Promise<unknown>): Promise<string | null> {
	try {
		await work();
		last.value = new Date();
		return null;
	} catch (error) {
		if (error instanceof StorageFault) return error.message;
		throw error;
	}
}
