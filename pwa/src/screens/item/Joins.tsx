/** What an item was joined to, seen from both of its sides. */
import type { End, Item } from "../../domain/contract.ts";
import { itemName } from "../../domain/names.ts";
import { misfit } from "../../domain/threadFit.ts";
import { boat } from "../../storage/boat.ts";
import { rules } from "../../storage/rules.ts";
import { State } from "../../ui/State.tsx";
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
	readonly ends: readonly End[];
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
		const said = [end.label, end.joined, end.thread].filter(Boolean).join(", ");
		const before = found.get(name);
		const how = [...(before?.how ?? []), said].filter(Boolean);
		const ends = [...(before?.ends ?? []), end];
		found.set(name, { other, point: end.to_point, how: [...new Set(how)], ends });
	};
	for (const end of endsOf(item)) add(end, end.to_item);
	for (const end of boat.table("end").value.values())
		if (end.to_item === item.key) add(end, end.item);
	return [...found.values()];
}

/** What is screwed together there and doesn't fit, with the reason. */
export function Misfit({ ends }: { ends: readonly End[] }) {
	const known = rules.value?.renewal;
	if (!known) return null;
	const items = boat.table("item").value;
	const all = boat.table("end").value;
	const says = new Set(ends.map((end) => misfit(end, items, all.values(), known)));
	says.delete("");
	return [...says].map((say) => (
		<span key={say} class="misfit">
			<State is="danger">{`Doesn't fit: ${say}`}</State>
		</span>
	));
}

function JoinRow({ join }: { join: Join }) {
	const item = join.other ? boat.table("item").value.get(join.other) : undefined;
	const words = (
		<span class="row-main">
			<span class="row-title">
				{item ? itemName(item, rules.value) : (join.point ?? "Not known to what")}
			</span>
			{join.how.length > 0 && <span class="row-under">{join.how.join("; ")}</span>}
			<Misfit ends={join.ends} />
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
