/** The thinnest wires that will do, the old one beside them, and the one that somebody takes. */
import { takenSize } from "../../domain/circuit.ts";
import type { Item, WireFit, WireSizing } from "../../domain/contract.ts";
import { figure } from "../../domain/wireLoad.ts";
import { Notice } from "../../ui/Notice.tsx";
import type { SetItem } from "../item/setItem.ts";

interface Props {
	item: Item;
	sizing: WireSizing;
	set: SetItem;
}

export function WireResult({ item, sizing, set }: Props) {
	const { gauge, metric, refused, asks, notes } = sizing;
	return (
		<section class="part" aria-live="polite">
			<h2>It takes</h2>
			{asks.map((text) => (
				<Notice key={text} sort="asks">
					{text}
				</Notice>
			))}
			{refused && <Notice sort="asks">{refused}</Notice>}
			{notes.map((text) => (
				<Notice key={text} sort="asks">
					{text}
				</Notice>
			))}
			{metric && <Fit fit={metric} item={item} sizing={sizing} set={set} />}
			{gauge && <Fit fit={gauge} item={item} sizing={sizing} set={set} />}
			{sizing.amps > 0 && <Reckoned sizing={sizing} />}
			{sizing.old_words && sizing.amps > 0 && (
				<Notice sort={failing(sizing.old) ? "danger" : "plain"}>{sizing.old_words}</Notice>
			)}
			<Taken item={item} sizing={sizing} set={set} />
		</section>
	);
}

function failing(fit: WireFit | null): boolean {
	return fit !== null && fit.fails.length > 0;
}

function Fit({ fit, item, sizing, set }: Props & { fit: WireFit }) {
	const size = takenSize(item, fit.name);
	return (
		<div class="wire-fit">
			<p class="wire-size">{fit.name}</p>
			<p class="small">
				Bears {figure(fit.bears_a, 1)} A, drops {figure(fit.drop_v, 2)} V,{" "}
				{figure(100 * fit.drop_share, 1)} %. {fuseWords(fit, sizing)}
			</p>
			{item.new_size !== size && (
				<button
					type="button"
					class="button button-wide"
					onClick={() => void set({ new_size: size })}
				>
					Take {size}
				</button>
			)}
		</div>
	);
}

/** `Fuse 15 to 40 A: the load asks for 12.5 A, the wire bears no more than 45 A.` */
function fuseWords({ fuses, bears_a }: WireFit, { fuse_from_a }: WireSizing): string {
	const ends = [...new Set([fuses[0], fuses.at(-1)])].join(" to ");
	return `Fuse ${ends} A: the load asks for ${figure(fuse_from_a, 1)} A, the wire bears no more than ${figure(bears_a, 1)} A.`;
}

function Reckoned({ sizing }: { sizing: WireSizing }) {
	const { amps, there_and_back_m, allowed_share, allowed_v, assumed } = sizing;
	const counts = 100 * sizing.ambient_share * sizing.bundle_share;
	return (
		<>
			<p class="part-note">
				For {figure(amps, 1)} A over {figure(there_and_back_m, 1)} m there and back, at most{" "}
				{figure(100 * allowed_share, 0)} % or {figure(allowed_v, 2)} V lost on this run. In air of{" "}
				{figure(sizing.ambient_c, 0)} °C, with insulation for {sizing.insulation_c} °C,{" "}
				{figure(counts, 0)} % of the table's amperes count.
			</p>
			{assumed.length > 0 && (
				<p class="part-note">Nobody said, so it counts at its worst: {assumed.join("; ")}.</p>
			)}
		</>
	);
}

function Taken({ item, sizing, set }: Props) {
	if (!item.new_size)
		return (
			<p class="part-note">
				Nothing is taken yet: the order copies the old size and says “copied, not sized”.
			</p>
		);
	const words = sizing.taken_words || `Taken: ${item.new_size}.`;
	return (
		<>
			<Notice sort={failing(sizing.taken) ? "danger" : "done"} role="status">
				{words}
			</Notice>
			<div class="buttons">
				<button
					type="button"
					class="button button-quiet"
					onClick={() => void set({ new_size: null })}
				>
					Take none of them
				</button>
			</div>
		</>
	);
}
