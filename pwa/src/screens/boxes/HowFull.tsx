/** How full a container is, by mass and by volume, in words and as bars. */
import type { BoxView, Container } from "../../domain/contract.ts";
import { Meter } from "../../ui/Meter.tsx";
import { Notice } from "../../ui/Notice.tsx";
import { kilograms } from "../../ui/words.ts";
import { rangeWords } from "../lists/Mass.tsx";

export function HowFull({ box, view }: { box: Container; view: BoxView | undefined }) {
	if (!view)
		return (
			<p class="part-note">
				Masses come with the server's next list; what goes in is kept without it.
			</p>
		);
	return (
		<section class="part">
			<h2>How full</h2>
			{box.limit_kg ? (
				<Meter
					share={view.loaded ?? 0}
					label="By mass"
					danger={(view.loaded_high ?? 0) > 1}
				>{`${kilograms(view.inside.likely)} of ${kilograms(box.limit_kg)}, ${rangeWords(view.inside)}`}</Meter>
			) : (
				<p>
					{kilograms(view.inside.likely)} in it, {rangeWords(view.inside)}, {view.inside.basis}. No
					limit by mass is written down.
				</p>
			)}
			{view.filled === null ? (
				<p class="part-note">Nobody said how full it looks.</p>
			) : (
				<Meter share={view.filled} label="By volume" danger={view.filled > 1}>
					{volumeWords(box, view)}
				</Meter>
			)}
			{view.faults.map((fault) => (
				<Notice key={`${fault.of} ${fault.say}`} sort="asks">
					{fault.of.startsWith("item/") ? `${fault.name}: ` : ""}
					{fault.say} {fault.do}
				</Notice>
			))}
		</section>
	);
}

function volumeWords(box: Container, view: BoxView): string {
	const percent = `${Math.round((view.filled ?? 0) * 100)} % full`;
	const of = box.capacity_l ? ` of ${box.capacity_l} L` : "";
	const litres = view.litres > 0 ? `, ${Number(view.litres.toFixed(1))} L known` : "";
	const without = view.without_litres > 0 ? `, ${view.without_litres} without litres` : "";
	return `${percent}${of}${litres}${without}`;
}
