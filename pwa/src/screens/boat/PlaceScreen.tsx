/** One shelf or crate: scan parts into it, see what is in it, give it a tag. */
import { useState } from "preact/hooks";
import type { Item, Place } from "../../domain/contract.ts";
import { groupedBy } from "../../domain/grouped.ts";
import { codesOn, itemName } from "../../domain/names.ts";
import { shown } from "../../domain/tag.ts";
import { pathOf } from "../../domain/tree.ts";
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
import { CodeEntry } from "../common/CodeEntry.tsx";
import { History } from "../common/History.tsx";
import { ItemRow } from "../common/ItemTag.tsx";
import { keepOrSay } from "../common/keeping.ts";
import { PickSheet } from "../common/PickSheet.tsx";
import { ScanBox } from "../common/ScanBox.tsx";
import { ownerOf } from "../common/tagOwner.ts";
import { PATHS } from "../paths.ts";

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
	const items = itemsIn(boat.table("item").value, key);
	return (
		<Screen
			title={place.name ?? "unnamed"}
			under={pathOf(boat.table("place").value, place.within).join(", ")}
			backTo={PATHS.places}
		>
			<ScanIn place={place} codes={codes} />
			<div class="buttons">
				<a class="button button-wide" href={PATHS.weigh(`place/${key}`)}>
					Weigh it with what is in it
				</a>
			</div>
			<section class="part">
				<h2>{items.length === 0 ? "Nothing in it yet" : `${count(items.length, "item")} in it`}</h2>
				<div class="rows">
					<Growing of={items}>{(item) => <ItemRow key={item.key} item={item} />}</Growing>
				</div>
			</section>
			<Settings place={place} codes={codes} />
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

function Settings({ place, codes }: { place: Place; codes: readonly string[] }) {
	const [moving, setMoving] = useState(false);
	const [fault, setFault] = useState<string | null>(null);
	const set = async (values: Partial<Omit<Place, "key">>): Promise<void> =>
		setFault(await keepOrSay([{ table: "place", key: place.key, set: values }]));
	const tag = async (code: string): Promise<void> => {
		const owner = ownerOf(code);
		if (owner.sort !== "free")
			setFault(`${shown(code)} is already used, on ${owner.name}. Take another tag.`);
		else
			setFault(
				await keepOrSay([
					{ table: "tag", key: code, set: { on: `place/${place.key}`, binned: null } },
				]),
			);
	};
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
				chosen={pathOf(boat.table("place").value, place.within).join(", ") || "The shed itself"}
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
			<CodeEntry
				label="Put a tag on it: type the code"
				button="Put on"
				onCode={(code) => void tag(code)}
			/>
			{fault && (
				<Notice sort="asks" role="alert">
					{fault}
				</Notice>
			)}
		</section>
	);
}
