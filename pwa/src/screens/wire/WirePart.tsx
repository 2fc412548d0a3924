/** On the screen of a run of cable: what it takes in a line, and the way to size it. */
import { isAc, isCircuit } from "../../domain/circuit.ts";
import type { Item, WireSizing } from "../../domain/contract.ts";
import { sizeWire } from "../../domain/wireSize.ts";
import { rules } from "../../storage/rules.ts";
import { State } from "../../ui/State.tsx";
import { asFixed } from "../order/lines.ts";
import { PATHS } from "../paths.ts";

export function WirePart({ item }: { item: Item }) {
	const wiring = rules.value?.wiring;
	if (!wiring || !isCircuit(item, rules.value)) return null;
	const sizing = sizeWire(asFixed(item), isAc(item, rules.value), wiring);
	return (
		<section class="part">
			<h2>Its wire</h2>
			<p class="part-note">{takes(sizing)}</p>
			<Verdict sizing={sizing} />
			<p class="part-note">{ordered(item)}</p>
			<div class="buttons">
				<a class="button" href={PATHS.wire(item.key)}>
					{sizing.amps > 0 ? "See how thick it must be" : "Find out how thick it must be"}
				</a>
			</div>
		</section>
	);
}

/** `Takes 4 mm2 or AWG 12.`, or why that is not known. */
export function takes({ gauge, metric, refused, asks }: WireSizing): string {
	if (asks.length > 0) return "Not sized yet: load, voltage and length say how thick it must be.";
	const names = [metric?.name, gauge?.name].filter(Boolean);
	return names.length > 0 ? `Takes ${names.join(" or ")}.` : `Outside the method. ${refused}`;
}

/** How the wire that goes on the order came to be its size. */
function ordered(item: Item): string {
	if (item.new_size) return `On the order as ${item.new_size}, as it was taken.`;
	return item.size ? `On the order as ${item.size}: copied, not sized.` : "No size yet.";
}

export function Verdict({ sizing }: { sizing: WireSizing }) {
	const { taken, old, asks, refused } = sizing;
	if (asks.length > 0) return <State is="waits">Not sized</State>;
	if (refused) return <State is="waits">Outside the method</State>;
	if (taken && taken.fails.length > 0) return <State is="danger">The taken one fails</State>;
	if (!old) return <State is="plain">Sized</State>;
	if (old.fails.length > 0) return <State is="danger">The old one fails</State>;
	return <State is="out">The old one passes</State>;
}
