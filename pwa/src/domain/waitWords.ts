/** What a step waits for, in the words of the server (left.py). */
import { keyOf } from "./steps.ts";
import { pathOf } from "./tree.ts";
import type { WorkGraph } from "./workGraph.ts";

type RingsByTarget = readonly (readonly string[])[];

/** Everything that a target waits for, each said once; empty if it is ready. */
export function putInWords(
	graph: WorkGraph,
	target: string,
	rings: RingsByTarget,
): readonly string[] {
	const texts: string[] = [];
	// A way into a compartment is no work: what holds it shut is what there is to do.
	for (const first of graph.firsts(target))
		if (first.startsWith("compartment/"))
			for (const before of graph.firsts(first)) texts.push(words(graph, before));
		else texts.push(words(graph, first));
	for (const ring of rings)
		if (ring.includes(target)) {
			const names = [...ring, ring[0] as string].map((at) => nameOf(graph, at));
			texts.push(`Orders in a ring, mend one: ${names.join(" before ")}`);
		}
	return texts.length > 1 ? [...new Set(texts)] : texts;
}

/** What a target is called: an item, a job, a make-safe step that nobody wrote, or a gate. */
export function nameOf(graph: WorkGraph, target: string): string {
	const step = graph.steps.get(target);
	if (step) return step.name;
	const key = keyOf(target);
	if (target.startsWith("safe/")) {
		const row = graph.rules.systems.find(({ id }) => id === key);
		return `Make safe: ${row?.make_safe ?? key}`;
	}
	const place = pathOf(graph.records.compartments, key).at(-1);
	const name = place ?? "a compartment that is not known here";
	return target.startsWith("empty/") ? `${name} is empty` : `Way into ${name}`;
}

function words(graph: WorkGraph, target: string): string {
	const name = nameOf(graph, target);
	if (target.startsWith("item/")) return `Take out first: ${name}`;
	if (target.startsWith("empty/")) return `Wait until ${name}`;
	return name.startsWith("Make safe: ") ? name : `Do first: ${name}`;
}
