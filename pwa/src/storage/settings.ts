/** What the person has set on this phone; it stays on this phone. */
import { type ReadonlySignal, signal } from "@preact/signals";
import { type KeptSettings, readMeta, writeMeta } from "./meta.ts";

export const DEFAULTS: KeptSettings = { sendPhotosOn: "wifi", keepAll: false, budgetMb: 500 };
const MOST_MB = 100_000;

const held = signal<KeptSettings>(DEFAULTS);

export const settings: ReadonlySignal<KeptSettings> = held;

/** Load what was set; once, at start. Throws StorageLost. */
export async function loadSettings(): Promise<void> {
	held.value = { ...DEFAULTS, ...(await readMeta("settings")) };
}

/** When photographs may go out. Throws StorageFault. */
export function setSendPhotosOn(sendPhotosOn: KeptSettings["sendPhotosOn"]): Promise<void> {
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

async function change(part: Partial<KeptSettings>): Promise<void> {
	const next = { ...held.value, ...part };
	await writeMeta("settings", next);
	held.value = next;
}
