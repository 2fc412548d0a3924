/** The item's own log: who changed what, and when, newest first. */
import { useEffect, useState } from "preact/hooks";
import type { Change } from "../../domain/change.ts";
import type { Item } from "../../domain/contract.ts";
import { codesOn, itemName } from "../../domain/names.ts";
import { shown } from "../../domain/tag.ts";
import { pathOf } from "../../domain/tree.ts";
import { boat, history } from "../../storage/boat.ts";
import { rules } from "../../storage/rules.ts";
import { session } from "../../sync/session.ts";
import { clock, day, sentence } from "../../ui/words.ts";
import { photosOf } from "../common/photos.tsx";
import { type NamesOf, tell } from "./history.ts";

const FIRST_SHOWN = 8;

export function History({ item }: { item: Item }) {
	const [changes, setChanges] = useState<Change[]>([]);
	const [all, setAll] = useState(false);
	// Any edit of the item makes a new object of it; photographs and tags have maps of their own.
	const photos = boat.table("photo").value;
	const tags = boat.table("tag").value;
	const ends = boat.table("end").value;
	useEffect(() => {
		let wanted = true;
		void changesOf(item.key).then((found) => {
			if (wanted) setChanges(found);
		});
		return () => {
			wanted = false;
		};
	}, [item, photos, tags, ends]);
	const told = changes.filter((change) => tell(change, NAMES).length > 0);
	if (told.length === 0) return null;
	return (
		<section class="part">
			<h2>History</h2>
			<ol class="rows history">
				{(all ? told : told.slice(0, FIRST_SHOWN)).map((change) => (
					<Entry key={change.id} change={change} />
				))}
			</ol>
			{!all && told.length > FIRST_SHOWN && (
				<button type="button" class="button button-quiet" onClick={() => setAll(true)}>
					Show all {told.length}
				</button>
			)}
		</section>
	);
}

function Entry({ change }: { change: Change }) {
	const at = new Date(Number.parseInt(change.stamp.slice(0, 12), 16));
	return (
		<li>
			<span class="small pencil">
				{day(at)}
				<br />
				{clock(at)}, {whose(change.device)}
			</span>
			<span>{tell(change, NAMES).map(sentence).join(". ")}.</span>
		</li>
	);
}

async function changesOf(key: string): Promise<Change[]> {
	const target = `item/${key}`;
	const others: [Parameters<typeof history>[0], string][] = [
		["item", key],
		...photosOf(target).map((photo): ["photo", string] => ["photo", photo.key]),
		...codesOn(boat.table("tag").value, target).map((code): ["tag", string] => ["tag", code]),
		...[...boat.table("end").value.values()]
			.filter((end) => end.item === key)
			.map((end): ["end", string] => ["end", end.key]),
	];
	const found = await Promise.all(others.map(([table, of]) => history(table, of)));
	return found.flat().sort((a, b) => (a.stamp < b.stamp ? 1 : -1));
}

function whose(device: string): string {
	if (device === session.value.device) return "this phone";
	return boat.table("device").value.get(device)?.name ?? "another phone";
}

const NAMES: NamesOf = {
	compartment: (key) => pathOf(boat.table("compartment").value, key).join(", ") || "a compartment",
	place: (key) => pathOf(boat.table("place").value, key).join(", ") || "a place",
	item: (key) => {
		const item = boat.table("item").value.get(key);
		return item ? itemName(item, rules.value) : "an item";
	},
	kind: (id) => (rules.value?.kinds.find((kind) => kind.id === id)?.name ?? id).toLowerCase(),
	code: shown,
};
