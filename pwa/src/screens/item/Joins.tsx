/** What an item was joined to, seen from both of its sides. */
import type { End, Item } from "../../domain/contract.ts";
import { itemName } from "../../domain/names.ts";
import { boat } from "../../storage/boat.ts";
import { rules } from "../../storage/rules.ts";
import { PATHS } from "../paths.ts";

/** The item's own ends, in key order. */
export function endsOf(item: Item): End[] {
	return [...boat.table("end").value.values()]
		.filter((end) => end.item === item.key)
		.sort((a, b) => (a.key < b.key ? -1 : 1));
}

export function Joins({ item }: { item: Item }) {
	const own = endsOf(item);
	const theirs = [...boat.table("end").value.values()].filter((end) => end.to_item === item.key);
	if (own.length + theirs.length === 0) return null;
	return (
		<section class="part">
			<h2>Joined to</h2>
			<ul class="rows">
				{own.map((end) => (
					<Join key={end.key} end={end} other={end.to_item} />
				))}
				{theirs.map((end) => (
					<Join key={end.key} end={end} other={end.item} />
				))}
			</ul>
		</section>
	);
}

function Join({ end, other }: { end: End; other: string | null }) {
	const item = other ? boat.table("item").value.get(other) : undefined;
	const how = [end.label, end.joined].filter(Boolean).join(", ");
	const words = (
		<span class="row-main">
			<span class="row-title">
				{item ? itemName(item, rules.value) : (end.to_point ?? "Not known to what")}
			</span>
			{how && <span class="row-under">{how}</span>}
		</span>
	);
	return (
		<li>
			{item ? (
				<a class="row" href={PATHS.item(item.key)}>
					{words}
				</a>
			) : (
				<span class="row">{words}</span>
			)}
		</li>
	);
}
