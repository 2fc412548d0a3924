/** What is still to be done on this boat, as this phone knows it. */
import { computed } from "@preact/signals";
import { isToTakeOut } from "../../domain/recount.ts";
import { waitsFor } from "../../domain/steps.ts";
import { boat } from "../../storage/boat.ts";
import { rules } from "../../storage/rules.ts";

const open = computed(() => {
	const found = new Set<string>();
	for (const item of boat.table("item").value.values())
		if (isToTakeOut(item)) found.add(`item/${item.key}`);
	for (const job of boat.table("job").value.values()) if (!job.done_at) found.add(`job/${job.key}`);
	return found;
});

/** The targets of the items aboard and the jobs that are open. */
export function openSteps(): ReadonlySet<string> {
	return open.value;
}

const waiting = computed(() => {
	const known = rules.value;
	if (!known) return null;
	return waitsFor(
		{
			items: boat.table("item").value,
			jobs: boat.table("job").value,
			befores: boat.table("before").value,
			compartments: boat.table("compartment").value,
		},
		known,
	);
});

/** What each open step waits for, worked out here; null before the rules have come. */
export function waits(): ReadonlyMap<string, readonly string[]> | null {
	return waiting.value;
}
