/** One compartment: its name, what it lies in, and its place along the boat. */
import { useState } from "preact/hooks";
import type { Compartment, Item } from "../../domain/contract.ts";
import { groupedBy } from "../../domain/grouped.ts";
import { pathOf, withinFault } from "../../domain/tree.ts";
import { boat, newKey } from "../../storage/boat.ts";
import { BoatDrawing } from "../../ui/BoatDrawing.tsx";
import { Choice } from "../../ui/Choice.tsx";
import { TextField } from "../../ui/Field.tsx";
import { Growing } from "../../ui/Growing.tsx";
import { OpensChoice } from "../../ui/LabelledInput.tsx";
import { Notice } from "../../ui/Notice.tsx";
import { go } from "../../ui/router.ts";
import { Screen } from "../../ui/Screen.tsx";
import { count } from "../../ui/words.ts";
import { drawnPlaces, hullOf, placeOf } from "../common/drawn.ts";
import { History } from "../common/History.tsx";
import { ItemRow } from "../common/ItemTag.tsx";
import { keepOrSay } from "../common/keeping.ts";
import { NameForm } from "../common/NameForm.tsx";
import { PickSheet } from "../common/PickSheet.tsx";
import { OrdersPart } from "../orders/OrdersPart.tsx";
import { PATHS } from "../paths.ts";
import { Metres } from "./BoatFields.tsx";

type SetCompartment = (values: Partial<Omit<Compartment, "key">>) => Promise<void>;

const itemsIn = groupedBy((item: Item) => item.compartment);

export function CompartmentScreen({ compartmentKey: key }: { compartmentKey: string }) {
	const [fault, setFault] = useState<string | null>(null);
	const compartment = boat.table("compartment").value.get(key);
	if (!compartment) return <Unknown />;
	const set: SetCompartment = async (values) =>
		setFault(await keepOrSay([{ table: "compartment", key, set: values }]));
	const hull = hullOf();
	return (
		<Screen title={compartment.name ?? "unnamed"} backTo={PATHS.compartments}>
			{hull && (
				<BoatDrawing
					hull={hull}
					places={drawnPlaces()}
					marked={placeOf(key)}
					label={`The boat from above and from the side, ${compartment.name} marked`}
				/>
			)}
			{fault && (
				<Notice sort="asks" role="alert">
					{fault}
				</Notice>
			)}
			<TextField
				label="Name"
				value={compartment.name ?? ""}
				longest={200}
				onKeep={(name) => {
					if (name === "")
						return "A compartment needs a name; the old one stays until you give another.";
					void set({ name });
					return null;
				}}
			/>
			<Within compartment={compartment} set={set} />
			<Lies compartment={compartment} set={set} />
			<Inside compartment={compartment} />
			<OrdersPart target={`compartment/${key}`} />
			<Remove compartment={compartment} set={set} />
			<History of={[["compartment", key]]} />
		</Screen>
	);
}

function Within({ compartment, set }: { compartment: Compartment; set: SetCompartment }) {
	const [choosing, setChoosing] = useState(false);
	const compartments = boat.table("compartment").value;
	const [fault, setFault] = useState<string | null>(null);
	const move = (within: string | null): void => {
		setChoosing(false);
		// Another phone may have moved things meanwhile, so the sheet's list alone is no proof.
		const why = withinFault(compartments, compartment.key, within);
		setFault(why);
		if (!why) void set({ within });
	};
	return (
		<OpensChoice
			label="Lies in"
			chosen={pathOf(compartments, compartment.within).join(", ") || "The boat itself"}
			word="Move"
			onOpen={() => setChoosing(true)}
		>
			{fault && (
				<Notice sort="asks" role="alert">
					{fault}
				</Notice>
			)}
			{choosing && (
				<PickSheet
					title={`Where ${compartment.name ?? "it"} lies`}
					nodes={compartments}
					picked={compartment.within}
					without={compartment.key}
					none="The boat itself"
					onPick={move}
					onClose={() => setChoosing(false)}
				/>
			)}
		</OpensChoice>
	);
}

function Lies({ compartment, set }: { compartment: Compartment; set: SetCompartment }) {
	return (
		<>
			<Choice
				name="side"
				legend="Side"
				wrap
				clears
				options={[
					{ value: "port", label: "Port" },
					{ value: "centre", label: "Centre" },
					{ value: "starboard", label: "Starboard" },
					{ value: "across", label: "Across" },
				]}
				value={compartment.side}
				onChange={(side) => void set({ side })}
			/>
			<Choice
				name="level"
				legend="Level"
				wrap
				clears
				options={[
					{ value: "aloft", label: "Aloft" },
					{ value: "deck", label: "Deck" },
					{ value: "cabin", label: "Cabin" },
					{ value: "under sole", label: "Under sole" },
				]}
				value={compartment.level}
				onChange={(level) => void set({ level })}
			/>
			<div class="pair-of-fields">
				<Metres
					label="Begins"
					hint="metres aft of the stem"
					zero
					value={compartment.from_m}
					onKeep={(from_m) => void set({ from_m })}
				/>
				<Metres
					label="Ends"
					hint="metres aft of the stem"
					zero
					value={compartment.to_m}
					onKeep={(to_m) => void set({ to_m })}
				/>
			</div>
		</>
	);
}

function Inside({ compartment }: { compartment: Compartment }) {
	const [fault, setFault] = useState<string | null>(null);
	const items = itemsIn(boat.table("item").value, compartment.key);
	const add = async (name: string): Promise<void> => {
		const set = { name, compartment: compartment.key, whereabouts: "aboard" } as const;
		setFault(await keepOrSay([{ table: "item", key: newKey(), set }]));
	};
	return (
		<section class="part">
			<h2>{items.length === 0 ? "No items yet" : count(items.length, "item")}</h2>
			<NameForm
				label="List an item that is still here"
				button="Add"
				fault={fault}
				onName={(name) => void add(name)}
			/>
			<div class="rows part-tight">
				<Growing of={items}>{(item) => <ItemRow key={item.key} item={item} here />}</Growing>
			</div>
		</section>
	);
}

function Remove({ compartment, set }: { compartment: Compartment; set: SetCompartment }) {
	const inside = [...boat.table("compartment").value.values()].filter(
		({ within }) => within === compartment.key,
	).length;
	const items = itemsIn(boat.table("item").value, compartment.key).length;
	if (inside + items > 0)
		return (
			<p class="part part-note">
				It can be put in the bin once nothing lies in it. Now there{" "}
				{inside + items === 1 ? "is" : "are"} {heldWords(inside, items)}.
			</p>
		);
	return (
		<div class="buttons part">
			<button
				type="button"
				class="button"
				onClick={() =>
					void set({ binned: true }).then(() => go(PATHS.compartments, { replace: true }))
				}
			>
				Put this compartment in the bin
			</button>
		</div>
	);
}

/** `2 compartments and 7 items`, without what there is none of. */
function heldWords(inside: number, items: number): string {
	const parts = [
		inside > 0 ? count(inside, "compartment") : "",
		items > 0 ? count(items, "item") : "",
	];
	return parts.filter(Boolean).join(" and ");
}

function Unknown() {
	return (
		<Screen title="No such compartment on this phone" backTo={PATHS.compartments}>
			<p>It may be in the bin, or another phone made it and has not sent it yet.</p>
		</Screen>
	);
}
