/** Ends of an item: to another item or a named point, and how; and how the item was fastened. */
import { useState } from "preact/hooks";
import type { End, Item } from "../../domain/contract.ts";
import { itemName } from "../../domain/names.ts";
import { matches } from "../../domain/search.ts";
import { boat, newKey } from "../../storage/boat.ts";
import { rules } from "../../storage/rules.ts";
import { TextField } from "../../ui/Field.tsx";
import { Icon } from "../../ui/Icon.tsx";
import { type Offer, Suggest } from "../../ui/Suggest.tsx";
import { whereItSat } from "../common/ItemTag.tsx";
import { keepOrSay } from "../common/keeping.ts";
import { endsOf, Misfit } from "./Joins.tsx";
import { isScrewed, ThreadField } from "./JointFields.tsx";
import type { SetItem } from "./setItem.ts";

export function JoinsEditor({ item, set }: { item: Item; set: SetItem }) {
	const [adding, setAdding] = useState<string | null>(null);
	const ends = endsOf(item);
	const shown =
		adding && !ends.some((end) => end.key === adding) ? [...ends, blank(adding, item)] : ends;
	return (
		<section class="part">
			<h2>Joined and fastened</h2>
			{shown.map((end, at) => (
				<EndFields key={end.key} end={end} number={at + 1} />
			))}
			<div class="buttons">
				<button type="button" class="button" onClick={() => setAdding(newKey())}>
					<Icon name="add" /> {shown.length === 0 ? "Say what it was joined to" : "Another join"}
				</button>
			</div>
			<TextField
				label="How it was fastened"
				value={item.fastened ?? ""}
				longest={200}
				hint="Like “four M8 bolts, nuts inside the locker”."
				onKeep={(text) => void set({ fastened: text || null })}
			/>
		</section>
	);
}

function EndFields({ end, number }: { end: End; number: number }) {
	const keepEnd = (fields: Partial<Omit<End, "key">>): void => {
		void keepOrSay([{ table: "end", key: end.key, set: { item: end.item, ...fields } }]);
	};
	const own = end.item ? boat.table("item").value.get(end.item) : undefined;
	const other = end.to_item ? boat.table("item").value.get(end.to_item) : undefined;
	// What is written is seldom written again: it folds to a line, and a new one stands open.
	const [open] = useState(end.to_item === null && end.to_point === null);
	return (
		<details open={open} class="join">
			<summary>
				<span class="row-main">
					<span class="row-title">{toWords(end, other) || `Join ${number}`}</span>
					<span class="row-under">{howWords(end) || "Not said how"}</span>
					<Misfit ends={[end]} />
				</span>
			</summary>
			<Suggest
				label={`Join ${number}: to`}
				value={toWords(end, other)}
				hint="An item by its name, or any point in words, like “tank outlet”."
				offersFor={(text) => offers(text, end.item)}
				onPick={({ id }) => keepEnd({ to_item: id, to_point: null })}
				onText={(text) => keepEnd({ to_point: text || null, to_item: null })}
			/>
			<TextField
				label={`Join ${number}: how`}
				value={end.joined ?? ""}
				longest={200}
				hint="Like “two hose clamps”."
				onKeep={(text) => void keepEnd({ joined: text || null })}
			/>
			{isScrewed(end, [own, other]) && (
				<ThreadField
					label={`Join ${number}: thread`}
					value={end.thread}
					hint="Only where this end has another than the whole: G 3/4, R 3/4 outside, 3/4 NPT."
					onKeep={(thread) => keepEnd({ thread })}
				/>
			)}
			{isCable(own) && (
				<TextField
					label={`Join ${number}: stud or screw`}
					value={end.stud ?? ""}
					longest={200}
					hint="What the terminal goes over, like M8 or 1/4 in."
					onKeep={(text) => void keepEnd({ stud: text || null })}
				/>
			)}
			<div class="buttons">
				<button type="button" class="button button-quiet" onClick={() => keepEnd({ binned: true })}>
					Take join {number} away
				</button>
			</div>
		</details>
	);
}

function toWords(end: End, other: Item | undefined): string {
	return other ? itemName(other, rules.value) : (end.to_point ?? "");
}

function howWords({ label, joined, thread, stud }: End): string {
	return [label, joined, thread, stud].filter(Boolean).join(", ");
}

const MOST_OFFERS = 5;

function offers(text: string, except: string | null): Offer[] {
	return [...boat.table("item").value.values()]
		.filter((item) => item.key !== except && matches(text, itemName(item, rules.value)))
		.slice(0, MOST_OFFERS)
		.map((item) => ({
			id: item.key,
			label: itemName(item, rules.value),
			under: whereItSat(item),
		}));
}

function isCable(item: Item | undefined): boolean {
	return item?.kind?.startsWith("cable-") ?? false;
}

function blank(key: string, item: Item): End {
	const nothing = { binned: null, label: null, to_item: null, to_point: null, joined: null };
	return { key, item: item.key, ...nothing, stud: null, thread: null };
}
