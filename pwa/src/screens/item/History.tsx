/** The item's own log: who changed what, and when, newest first. */
import { useEffect, useState } from "preact/hooks";
import type { Change } from "../../domain/change.ts";
import type { Item } from "../../domain/contract.ts";
import { codesOn } from "../../domain/names.ts";
import { boat, history } from "../../storage/boat.ts";
import { clock, day, sentence } from "../../ui/words.ts";
import { photosOf } from "../common/photos.tsx";
import { NAMES, phoneName } from "../common/tellers.ts";
import { byMoment, type Moment } from "./history.ts";

const FIRST_SHOWN = 6;

export function History({ item }: { item: Item }) {
	const [moments, setMoments] = useState<readonly Moment[]>([]);
	const [all, setAll] = useState(false);
	// Any edit of the item makes a new object of it; photographs, tags and ends have their own maps.
	const photos = boat.table("photo").value;
	const tags = boat.table("tag").value;
	const ends = boat.table("end").value;
	useEffect(() => {
		let wanted = true;
		void changesOf(item.key).then((changes) => {
			if (wanted) setMoments(byMoment(changes, NAMES));
		});
		return () => {
			wanted = false;
		};
	}, [item, photos, tags, ends]);
	if (moments.length === 0) return null;
	return (
		<section class="part">
			<h2>History</h2>
			<ol class="rows history">
				{(all ? moments : moments.slice(0, FIRST_SHOWN)).map((moment) => (
					<Entry key={moment.id} moment={moment} />
				))}
			</ol>
			{!all && moments.length > FIRST_SHOWN && (
				<button type="button" class="button button-quiet" onClick={() => setAll(true)}>
					Show all {moments.length}
				</button>
			)}
		</section>
	);
}

function Entry({ moment }: { moment: Moment }) {
	const at = new Date(moment.ms);
	return (
		<li>
			<p class="small pencil">
				{day(at)}, {clock(at)}, {phoneName(moment.device)}
			</p>
			<p>{moment.said.map(sentence).join(". ")}.</p>
		</li>
	);
}

async function changesOf(key: string): Promise<Change[]> {
	const target = `item/${key}`;
	const records: [Parameters<typeof history>[0], string][] = [
		["item", key],
		...photosOf(target).map((photo): ["photo", string] => ["photo", photo.key]),
		...codesOn(boat.table("tag").value, target).map((code): ["tag", string] => ["tag", code]),
		...[...boat.table("end").value.values()]
			.filter((end) => end.item === key)
			.map((end): ["end", string] => ["end", end.key]),
	];
	const found = await Promise.all(records.map(([table, of]) => history(table, of)));
	return found.flat();
}
