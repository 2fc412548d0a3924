/** Tag codes: a reserve for use with no signal, and new blocks for printing. */
import { computed, type ReadonlySignal, signal } from "@preact/signals";
import { readStores, writeStores } from "../storage/db.ts";
import { boat } from "../storage/memory.ts";
import { call } from "./http.ts";

export interface TagBlock {
	readonly block: string;
	readonly codes: readonly string[];
}

const LOW = 24;
const REFILL = 48;

const held = signal<readonly { readonly code: string; readonly boat: string }[]>([]);
const taken = signal<ReadonlySet<string>>(new Set());

/** Codes that this phone may still give out for the chosen boat, in order. */
export const reserve: ReadonlySignal<readonly string[]> = computed(() => {
	const used = boat.table("tag").value;
	return held.value
		.filter(
			({ code, boat: of }) => of === boat.key.value && !taken.value.has(code) && !used.has(code),
		)
		.map(({ code }) => code);
});

/**
 * The next code of the reserve; null if it is used up.
 *
 * It counts as used once a `tag` record with it is kept; a code taken and not kept comes back
 * when the app starts again.
 */
export function takeNextTag(): string | null {
	const [code] = reserve.value;
	if (code === undefined) return null;
	taken.value = new Set([...taken.value, code]);
	return code;
}

/** Put back a code that was taken and not used after all. */
export function putBackTag(code: string): void {
	taken.value = new Set([...taken.value].filter((other) => other !== code));
}

/** New codes for printing, 1 to 500. Throws SyncTrouble. */
export function newBlock(count: number): Promise<TagBlock> {
	const of = boat.key.value;
	if (of === null) throw new Error("choose a boat before asking for tags");
	return call<TagBlock>(`/api/boats/${encodeURIComponent(of)}/tag-blocks`, {
		method: "POST",
		json: { count },
	});
}

/** Load the reserve; once, at start. */
export async function loadReserve(): Promise<void> {
	held.value = await readStores(["tag"], (tx) => tx.objectStore("tag").getAll());
}

/** Fill the reserve of the chosen boat if it is low. Throws SyncTrouble. */
export async function refillReserve(): Promise<void> {
	const of = boat.key.value;
	if (of === null || reserve.value.length >= LOW) return;
	const { codes } = await newBlock(REFILL);
	await writeStores(["tag"], async (tx) => {
		for (const code of codes) await tx.objectStore("tag").put({ code, boat: of });
	});
	await loadReserve();
}
