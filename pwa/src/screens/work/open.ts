/** What is still to be done on this boat, as this phone knows it. */
import { computed } from "@preact/signals";
import { OpenWork } from "../../domain/openWork.ts";
import { isToTakeOut } from "../../domain/recount.ts";
import { keyOf, type WorkRecords } from "../../domain/steps.ts";
import { boat } from "../../storage/boat.ts";
import { rules } from "../../storage/rules.ts";

export interface Waits {
	/** What a target waits for, in words; empty if it is ready. */
	of(target: string): readonly string[];
	/** The rings of orders in names. */
	readonly rings: readonly (readonly string[])[];
}

/** True while an item is aboard, or a job is open. */
export function isOpen(target: string): boolean {
	if (target.startsWith("item/")) {
		const item = boat.table("item").value.get(keyOf(target));
		return item !== undefined && isToTakeOut(item);
	}
	const job = target.startsWith("job/") && boat.table("job").value.get(keyOf(target));
	return Boolean(job && !job.done_at);
}

/** The records that the order of work is made from. */
export function workRecords(): WorkRecords {
	return {
		items: boat.table("item").value,
		jobs: boat.table("job").value,
		befores: boat.table("before").value,
		compartments: boat.table("compartment").value,
	};
}

let work: OpenWork | null = null;

const waiting = computed((): Waits | null => {
	const known = rules.value;
	if (!known) return null;
	const records = workRecords();
	const now = work ? work.after(records, known) : new OpenWork(records, known);
	work = now;
	return { of: (target) => now.waitsOf(target), rings: now.ringNames() };
});

/** What each open step waits for, worked out here; null before the rules have come. */
export function waits(): Waits | null {
	return waiting.value;
}
