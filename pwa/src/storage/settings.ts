/** What the person has set on this phone; it stays on this phone. */
import { type ReadonlySignal, signal } from "@preact/signals";
import { readMeta, writeMeta } from "./meta.ts";

export interface Settings {
	/** `wifi`: photographs wait while the phone says that its line costs money. */
	readonly sendPhotosOn: "any" | "wifi";
	/** Fetch every photograph in full, and not only small copies, as far as the budget goes. */
	readonly keepAll: boolean;
	/** Room for full photographs that the server has too, in MB (1,000,000 bytes), 0 to 100,000. */
	readonly budgetMb: number;
}

export const DEFAULTS: Settings = { sendPhotosOn: "wifi", keepAll: false, budgetMb: 500 };
const MOST_MB = 100_000;

const held = signal<Settings>(DEFAULTS);

export const settings: ReadonlySignal<Settings> = held;

/** Load what was set; once, at start. Throws StorageLost. */
export async function loadSettings(): Promise<void> {
	held.value = { ...DEFAULTS, ...(await readMeta("settings")) };
}

/** When photographs may go out. Throws StorageFault. */
export function setSendPhotosOn(sendPhotosOn: Settings["sendPhotosOn"]): Promise<void> {
	return change({ sendPhotosOn });
}

/** Whether to hold every photograph in full. Throws StorageFault. */
export function setKeepAll(keepAll: boolean): Promise<void> {
	return change({ keepAll });
}

/** The room for full photographs, in MB; brought into 0 to 100,000. Throws StorageFault. */
export function setBudgetMb(mb: number): Promise<void> {
	return change({ budgetMb: Math.min(Math.max(Math.round(mb) || 0, 0), MOST_MB) });
}

async function change(part: Partial<Settings>): Promise<void> {
	const next = { ...held.value, ...part };
	await writeMeta("settings", next);
	held.value = next;
}
