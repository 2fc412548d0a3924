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

interface Join {
	/** Of the other item; null for a named point. */
	readonly other: string | null;
	readonly point: string | null;
	readonly how: readonly string[];
}

export function Joins({ item }: { item: Item }) {
	const joins = joinsOf(item);
	if (joins.length === 0) return null;
	return (
		<section class="part">
			<h2>Joined to</h2>
			<ul class="rows">
				{joins.map((join) => (
					<JoinRow key={join.other ?? join.point} join={join} />
				))}
			</ul>
		</section>
	);
}

/** Two items may each record the same join: it is one, with what both say of it. */
function joinsOf(item: Item): Join[] {
	const found = new Map<string, Join>();
	const add = (end: End, other: string | null): void => {
		const name = other ?? end.to_point ?? "";
		const said = [end.label, end.joined].filter(Boolean).join(", ");
		const how = [...(found.get(name)?.how ?? []), said].filter(Boolean);
		found.set(name, { other, point: end.to_point, how: [...new Set(how)] });
	};
	for (const end of endsOf(item)) add(end, end.to_item);
	for (const end of boat.table("end").value.values())
		if (end.to_item === item.key) add(end, end.item);
	return [...found.values()];
}

function JoinRow({ join }: { join: Join }) {
	const item = join.other ? boat.table("item").value.get(join.other) : undefined;
	const words = (
		<span class="row-main">
			<span class="row-title">
				{item ? itemName(item, rules.value) : (join.point ?? "Not known to what")}
			</span>
			{join.how.length > 0 && <span class="row-under">{join.how.join("; ")}</span>}
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
