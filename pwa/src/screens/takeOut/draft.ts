/**
 * What is set on the take-out screen before the shutter: kept over a reload.
 *
 * A phone may close the page while its own camera app or file picker is in front, so this is
 * written, synchronously, before the picker opens.
 */
import { type ReadonlySignal, signal } from "@preact/signals";
import type { Item } from "../../domain/contract.ts";

type Condition = NonNullable<Item["condition"]>;

export interface Draft {
	/** Key of the compartment; stays from item to item. */
	readonly compartment: string | null;
	/** Compartments used last, newest first. */
	readonly recent: readonly string[];
	readonly condition: Condition | null;
	/** Scanned or typed; null to use the next of this phone's own. */
	readonly code: string | null;
	/** Already listed, and now photographed on its way out; null for a new item. */
	readonly item: string | null;
	/** True from opening the picker until its picture was kept. */
	readonly picking: boolean;
	/** Look for tags in the picture. */
	readonly scanning: boolean;
}

const STORED_AS = "shedtally.take-out";
const EMPTY: Draft = {
	compartment: null,
	recent: [],
	condition: null,
	code: null,
	item: null,
	picking: false,
	scanning: false,
};
const MOST_RECENT = 3;

const held = signal<Draft>(stored());
export const draft: ReadonlySignal<Draft> = held;

export function setDraft(part: Partial<Draft>): void {
	held.value = { ...held.value, ...part };
	try {
		localStorage.setItem(STORED_AS, JSON.stringify(held.value));
	} catch {
		// Without storage the draft lives as long as the page; what is kept goes to IndexedDB anyway.
	}
}

export function setCompartment(key: string | null): void {
	const others = held.value.recent.filter((other) => other !== key);
	const recent = key === null ? others : [key, ...others].slice(0, MOST_RECENT);
	setDraft({ compartment: key, recent });
}

/** Ready for the next item: the compartment and the scanning stay. */
export function nextDraft(): void {
	setDraft({ condition: null, code: null, item: null, picking: false });
}

function stored(): Draft {
	try {
		const text = globalThis.localStorage?.getItem(STORED_AS);
		return text ? { ...EMPTY, ...(JSON.parse(text) as Partial<Draft>) } : EMPTY;
	} catch {
		return EMPTY;
	}
}
