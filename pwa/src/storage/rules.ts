/** The server's rules for the phone, kept for offline use. */
import { type ReadonlySignal, signal } from "@preact/signals";
import type { RulesForPhone } from "../domain/rules.ts";
import { readMeta, writeMeta } from "./meta.ts";

export type { Named } from "../domain/named.ts";
export type { KindForPhone, RulesForPhone } from "../domain/rules.ts";

const held = signal<RulesForPhone | null>(null);
let etag = "";

/** Null until this phone has met the server once. */
export const rules: ReadonlySignal<RulesForPhone | null> = held;

export async function loadRules(): Promise<void> {
	const kept = await readMeta("rules");
	if (!kept) return;
	held.value = kept.rules;
	etag = kept.etag;
}

/** The mark of the rules held, for asking the server whether there are newer ones. */
export function rulesMark(): string {
	return etag;
}

export async function keepRules(newer: RulesForPhone, mark: string): Promise<void> {
	await writeMeta("rules", { etag: mark, rules: newer });
	held.value = newer;
	etag = mark;
}
