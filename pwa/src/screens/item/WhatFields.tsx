/** Name, kind, system, number, and where it sat. */
import { useState } from "preact/hooks";
import type { Item } from "../../domain/contract.ts";
import { kindOf, systemOf } from "../../domain/names.ts";
import { kindsFor } from "../../domain/search.ts";
import { pathOf } from "../../domain/tree.ts";
import { boat } from "../../storage/boat.ts";
import { type KindForPhone, rules } from "../../storage/rules.ts";
import { SelectField, TextField } from "../../ui/Field.tsx";
import { Suggest } from "../../ui/Suggest.tsx";
import { CompartmentSheet } from "../common/CompartmentSheet.tsx";
import type { SetItem } from "./setItem.ts";

interface Props {
	item: Item;
	set: SetItem;
}

const MOST_OFFERS = 6;

export function WhatFields({ item, set }: Props) {
	const known = rules.value;
	const kind = kindOf(item, known);
	const pick = (picked: KindForPhone | undefined): void => {
		if (!picked) return;
		const fate = item.fate === null || item.fate === "undecided" ? fateOf(picked) : item.fate;
		void set({ kind: picked.id, system: picked.system, fate });
	};
	return (
		<section class="part">
			<h2>What it is</h2>
			<Suggest
				label="Kind"
				value={kind?.name ?? ""}
				hint="Begin to type, like “seacock” or “fuel hose”, and take the one that fits."
				offersFor={(text) =>
					kindsFor(known?.kinds ?? [], text, MOST_OFFERS).map(({ id, name, system }) => ({
						id,
						label: name,
						under: known?.systems.find((other) => other.id === system)?.name ?? system,
					}))
				}
				onPick={({ id }) => pick(known?.kinds.find((other) => other.id === id))}
				onText={(text) => {
					// Words that are no kind are its name; an emptied field means "not known after all".
					if (text === "") void set({ kind: null });
					else void set({ name: text });
				}}
			/>
			<TextField
				label="Its own name"
				value={item.name ?? ""}
				longest={200}
				hint={kind ? `Left empty, it is called “${kind.name}”.` : undefined}
				onKeep={(text) => void set({ name: text || null })}
			/>
			<SelectField
				label="System"
				value={systemOf(item, known) ?? ""}
				onChange={(system) => void set({ system: system || null })}
			>
				<option value="">Not known yet</option>
				{known?.systems.map(({ id, name }) => (
					<option key={id} value={id}>
						{name}
					</option>
				))}
			</SelectField>
			<TextField
				label="How many pieces"
				inputMode="numeric"
				value={String(item.count ?? 1)}
				onKeep={(text) => {
					if (!/^\d{1,6}$/.test(text) || Number(text) < 1 || Number(text) > 100_000)
						return `“${text}” is no number of pieces. Write a whole number from 1 to 100 000.`;
					void set({ count: Number(text) });
					return null;
				}}
			/>
			<Where item={item} set={set} />
			<TextField
				label="Where exactly"
				value={item.sat ?? ""}
				longest={200}
				hint="Like “behind the stove, port bulkhead”."
				onKeep={(text) => void set({ sat: text || null })}
			/>
		</section>
	);
}

function Where({ item, set }: Props) {
	const [choosing, setChoosing] = useState(false);
	const path = pathOf(boat.table("compartment").value, item.compartment);
	return (
		<div class="field">
			<span class="field-label" id="where-it-sat">
				Where it sat
			</span>
			<button
				type="button"
				class="input choose"
				aria-describedby="where-it-sat"
				onClick={() => setChoosing(true)}
			>
				<span>{path.join(", ") || "Not known yet"}</span>
				<span class="choose-change">Change</span>
			</button>
			{choosing && (
				<CompartmentSheet
					picked={item.compartment}
					onPick={(compartment) => {
						setChoosing(false);
						void set({ compartment });
					}}
					onClose={() => setChoosing(false)}
				/>
			)}
		</div>
	);
}

function fateOf(kind: KindForPhone): Item["fate"] {
	const fates: readonly string[] = ["undecided", "refit", "renew", "sell", "scrap", "waste"];
	return fates.includes(kind.default_fate ?? "") ? (kind.default_fate as Item["fate"]) : null;
}
