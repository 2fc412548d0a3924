/** What an item weighs, with its spread and where that comes from; what this phone knows wins. */
import type { Item } from "../../domain/contract.ts";
import { netOf, weighingsOf } from "../../domain/weighing.ts";
import { boat } from "../../storage/boat.ts";
import { lists } from "../../sync/lists.ts";
import { Notice } from "../../ui/Notice.tsx";
import { ago, day, daysInWords, kilograms } from "../../ui/words.ts";
import { spreadWords } from "../lists/Mass.tsx";
import { PATHS } from "../paths.ts";
import { Before } from "../weigh/Before.tsx";

export function MassPart({ item }: { item: Item }) {
	const aged = lists.value.masses;
	const line = aged?.list.items.find(({ key }) => key === item.key);
	const rows = weighingsOf(boat.table("weighing").value, `item/${item.key}`);
	const own = ownWords(item);
	const stale = own !== null && line !== undefined && Math.abs(own.kg - line.mass.likely) > 0.001;
	return (
		<section class="part">
			<h2>Mass</h2>
			{own && (!line || stale) && (
				<p class="mass-own">
					<b>{own.shown}</b>, {own.how}
				</p>
			)}
			{line && !stale && (
				<p class="mass-own">
					<b>{kilograms(line.mass.likely)}</b>, {spreadWords(line.mass)}
				</p>
			)}
			{line && !stale && <p class="small pencil">{daysInWords(aged?.list.whys[line.why] ?? "")}</p>}
			{line?.not_used && <Notice sort="asks">{line.not_used}</Notice>}
			{!own && !line && (
				<p class="part-note">Not known on this phone yet; the server works it out.</p>
			)}
			{aged && line && (
				<p class="small pencil">
					{stale ? "The server's list does not have this yet" : "From the server's list"}, made{" "}
					{ago(Date.parse(aged.madeAt), Date.now())}.
				</p>
			)}
			<div class="buttons">
				<a class="button" href={PATHS.weigh(`item/${item.key}`)}>
					Weigh it
				</a>
			</div>
			<Before rows={rows} />
		</section>
	);
}

interface Own {
	readonly kg: number;
	readonly shown: string;
	readonly how: string;
}

/** What this phone itself knows: the latest weighing that counts, else the mass as written. */
function ownWords(item: Item): Own | null {
	for (const row of weighingsOf(boat.table("weighing").value, `item/${item.key}`)) {
		const found = netOf(row);
		if ("kg" in found)
			return {
				kg: found.kg,
				shown: kilograms(found.kg),
				how: row.on ? `weighed ${day(new Date(row.on))}` : "weighed",
			};
	}
	if (!item.mass_kg) return null;
	const pieces = item.mass_how === "plate" ? (item.count ?? 1) : 1;
	const kg = item.mass_kg * pieces;
	return { kg, shown: kilograms(kg), how: HOW[item.mass_how ?? "guessed"] };
}

const HOW = {
	weighed: "weighed",
	plate: "read off its plate",
	calculated: "calculated by hand",
	guessed: "guessed",
} as const;
