/** One shelf or crate: scan parts into it, see what is in it, give it a tag. */

import { useState } from "preact/hooks";
import type { Item, Place } from "../../domain/contract.ts";
import { groupedBy } from "../../domain/grouped.ts";
import { codesOn, itemName } from "../../domain/names.ts";
import { shown } from "../../domain/tag.ts";
import { boat } from "../../storage/boat.ts";
import { rules } from "../../storage/rules.ts";
import { TextField } from "../../ui/Field.tsx";
import { Growing } from "../../ui/Growing.tsx";
import { Icon } from "../../ui/Icon.tsx";
import { OpensChoice } from "../../ui/LabelledInput.tsx";
import { Notice } from "../../ui/Notice.tsx";
import { Screen } from "../../ui/Screen.tsx";
import { Code } from "../../ui/Tag.tsx";
import { count } from "../../ui/words.ts";
import { stateOf } from "../boxes/boxWords.ts";
import { BinButton } from "../common/BinButton.tsx";
import { CodeEntry } from "../common/CodeEntry.tsx";
import { History } from "../common/History.tsx";
import { ItemRow } from "../common/ItemTag.tsx";
import { keepOrSay } from "../common/keeping.ts";
import { PickSheet } from "../common/PickSheet.tsx";
import { ScanBox } from "../common/ScanBox.tsx";
import { TagEntry } from "../common/TagEntry.tsx";
import { ownerOf } from "../common/tagOwner.ts";
import { placeWords } from "../common/whereItStands.ts";
import { PATHS } from "../paths.ts";
import { heldIn, placesIn } from "./held.ts";

/** What was handed over keeps its last place, but is not in it any more. */
const isHere = ({ whereabouts }: Item): boolean => whereabouts !== "gone";

const itemsIn = groupedBy((item: Item) => item.place);

export function PlaceScreen({ placeKey: key }: { placeKey: string }) {
	const place = boat.table("place").value.get(key);
	if (!place)
		return (
			<Screen title="No such shelf or crate on this phone" backTo={PATHS.places}>
				<p>It may be in the bin, or another phone made it and has not sent it yet.</p>
			</Screen>
		);
	const codes = codesOn(boat.table("tag").value, `place/${key}`);
	const items = itemsIn(boat.table("item").value, key).filter(isHere);
	const holdsPlaces = placesIn(key).length > 0;
	return (
		<Screen title={place.name ?? "unnamed"} under={placeWords(place.within)} backTo={PATHS.places}>
			<ScanIn place={place} codes={codes} />
			<div class="buttons">
				<a class="button button-wide" href={PATHS.weigh(`place/${key}`)}>
					Weigh it with what is in it
				</a>
			</div>
			{(items.length > 0 || !holdsPlaces) && (
				<section class="part">
					<h2>
						{items.length === 0 ? "Nothing in it yet" : `${count(items.length, "item")} in it`}
					</h2>
					<div class="rows">
						<Growing of={items}>{(item) => <ItemRow key={item.key} item={item} />}</Growing>
					</div>
				</section>
			)}
			<StandIn place={place} />
			<Settings place={place} codes={codes} />
			<Remove place={place} items={items.length} />
			<History of={[["place", key], ...codes.map((code) => ["tag", code] as const)]} />
		</Screen>
	);
}

function ScanIn({ place, codes }: { place: Place; codes: readonly string[] }) {
	const [scanning, setScanning] = useState(false);
	const [said, setSaid] = useState<{ sort: "done" | "asks"; words: string } | null>(null);
	const seen = async (code: string): Promise<void> => {
		if (codes.includes(code)) return;
		const owner = ownerOf(code);
		if (owner.sort !== "item") {
			const on = owner.sort === "free" ? "nothing that this phone knows" : owner.name;
			setSaid({ sort: "asks", words: `${shown(code)} is on ${on}. Scan the tag of an item.` });
			return;
		}
		const item = boat.table("item").value.get(owner.key);
		const set = {
			place: place.key,
			whereabouts: "ashore",
			out_at: item?.out_at ?? new Date().toISOString(),
		} as const;
		const fault = await keepOrSay([{ table: "item", key: owner.key, set }]);
		const name = item ? itemName(item, rules.value) : shown(code);
		setSaid(
			fault
				? { sort: "asks", words: fault }
				: {
						sort: "done",
						words: `${name} (${shown(code)}) is in ${place.name}. Kept on this phone.`,
					},
		);
	};
	return (
		<>
			{scanning ? (
				<ScanBox onCode={(code) => void seen(code)} onClose={() => setScanning(false)} />
			) : (
				<button
					type="button"
					class="button button-main button-wide button-hot"
					onClick={() => setScanning(true)}
				>
					<Icon name="scan" /> Scan items into it
				</button>
			)}
			<CodeEntry
				label="Or type an item's code"
				button="Put in"
				onCode={(code) => void seen(code)}
			/>
			{said && (
				<Notice sort={said.sort} role="status">
					{said.words}
				</Notice>
			)}
		</>
	);
}

/** The crates on a shelf, the shelves of a rack. */
function StandIn({ place }: { place: Place }) {
	const inside = placesIn(place.key);
	if (inside.length === 0) return null;
	const held = heldIn();
	return (
		<section class="part">
			<h2>{count(inside.length, "shelf or crate", "shelves and crates")} in it</h2>
			<div class="rows">
				{inside.map((one) => (
					<a key={one.key} class="row pick-row" href={PATHS.place(one.key)}>
						<span class="row-main">{one.name ?? "unnamed"}</span>
						<span class="row-count">{count(held.get(one.key) ?? 0, "item")}</span>
					</a>
				))}
			</div>
		</section>
	);
}

function Remove({ place, items }: { place: Place; items: number }) {
	const boxes = [...boat.table("container").value.values()].filter(
		(box) => box.place === place.key && stateOf(box) !== "gone",
	).length;
	if (items + boxes + placesIn(place.key).length > 0)
		return (
			<p class="part part-note">
				It can be put in the bin once no item, container or crate is in it.
			</p>
		);
	return (
		<BinButton
			table="place"
			of={place.key}
			after={PATHS.places}
			words="Put this shelf or crate in the bin"
		/>
	);
}

function Settings({ place, codes }: { place: Place; codes: readonly string[] }) {
	const [moving, setMoving] = useState(false);
	const [fault, setFault] = useState<string | null>(null);
	const set = async (values: Partial<Omit<Place, "key">>): Promise<void> =>
		setFault(await keepOrSay([{ table: "place", key: place.key, set: values }]));
	return (
		<section class="part">
			<h2>About it</h2>
			<TextField
				label="Name"
				value={place.name ?? ""}
				longest={200}
				onKeep={(name) => {
					if (name === "") return "A place needs a name; the old one stays until you give another.";
					void set({ name });
					return null;
				}}
			/>
			<OpensChoice
				label="Stands in"
				chosen={placeWords(place.within) || "The shed itself"}
				word="Move"
				onOpen={() => setMoving(true)}
			/>
			{moving && (
				<PickSheet
					title={`Where ${place.name ?? "it"} stands`}
					nodes={boat.table("place").value}
					picked={place.within}
					without={place.key}
					none="The shed itself"
					onPick={(within) => {
						setMoving(false);
						void set({ within });
					}}
					onClose={() => setMoving(false)}
				/>
			)}
			{codes.length > 0 && (
				<p class="field tag-line">
					Its tag:{" "}
					{codes.map((code) => (
						<Code key={code}>{shown(code)}</Code>
					))}
				</p>
			)}
			<TagEntry on={`place/${place.key}`} codes={codes} />
			{fault && (
				<Notice sort="asks" role="alert">
					{fault}
				</Notice>
			)}
		</section>
	);
}
