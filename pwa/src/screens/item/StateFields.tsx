/** Condition, whereabouts, fate and note. */
import type { Item } from "../../domain/contract.ts";
import { Choice } from "../../ui/Choice.tsx";
import { TextField } from "../../ui/Field.tsx";
import { CONDITIONS, FATES } from "../common/choices.ts";
import type { SetItem } from "./setItem.ts";

export function StateFields({ item, set }: { item: Item; set: SetItem }) {
	return (
		<section class="part">
			<h2>State</h2>
			<Choice
				name="edit-condition"
				legend="Condition"
				options={CONDITIONS}
				value={item.condition === "unknown" ? null : item.condition}
				clears
				onChange={(condition) => void set({ condition })}
			/>
			<Choice
				name="edit-fate"
				legend="Fate"
				options={FATES}
				value={item.fate}
				wrap
				onChange={(fate) => void set({ fate })}
			/>
			<Choice
				name="edit-whereabouts"
				legend="Whereabouts"
				options={[
					{ value: "aboard", label: "Aboard" },
					{ value: "ashore", label: "Ashore" },
					{ value: "gone", label: "Gone" },
				]}
				value={item.whereabouts ?? "aboard"}
				wrap
				onChange={(whereabouts) => void set(moved(item, whereabouts))}
			/>
			<TextField
				label="Note"
				multiline
				longest={4000}
				value={item.note ?? ""}
				onKeep={(note) => void set({ note: note || null })}
			/>
		</section>
	);
}

/** Ashore for the first time means that it came out now. */
function moved(item: Item, whereabouts: Item["whereabouts"]): Partial<Omit<Item, "key">> {
	if (whereabouts === "aboard") return { whereabouts, out_at: null };
	return { whereabouts, out_at: item.out_at ?? new Date().toISOString() };
}
