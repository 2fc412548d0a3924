/** How it goes back: in order, with joins and fasteners; each ticked as it is in its place again. */
import { useState } from "preact/hooks";
import type { BackGroup, BackItem, Item, PutBackList } from "../../domain/contract.ts";
import { isOut } from "../../domain/recount.ts";
import { shown } from "../../domain/tag.ts";
import { boat } from "../../storage/boat.ts";
import { lists } from "../../sync/lists.ts";
import { Choice } from "../../ui/Choice.tsx";
import { Growing } from "../../ui/Growing.tsx";
import { Notice } from "../../ui/Notice.tsx";
import { State } from "../../ui/State.tsx";
import { Code } from "../../ui/Tag.tsx";
import { keepOrSay } from "../common/keeping.ts";
import { RowPicture } from "../common/photos.tsx";
import { ListFrame } from "../lists/ListFrame.tsx";
import { PATHS } from "../paths.ts";
import { PinnedPicture } from "../pins/PinnedPicture.tsx";
import { pinnedPhotos, pinsOn, spotWords } from "../pins/pins.ts";
import "./back.css";

type By = "by_compartment" | "by_system";

export function PutBack() {
	const aged = lists.value.back;
	const [by, setBy] = useState<By>("by_compartment");
	const [open, setOpen] = useState<string | null>(null);
	return (
		<ListFrame title="Put back" name="back" aged={aged}>
			{aged && aged.list.total > 0 ? (
				<>
					<Totals list={aged.list} />
					<p class="part-note">
						The order is that of taking out, turned round. Gas, shore power and fuel are put back
						and tested by people who are licensed for it where the local rules say so.
					</p>
					<Choice
						name="back-by"
						legend="By"
						options={[
							{ value: "by_compartment", label: "Compartment" },
							{ value: "by_system", label: "System" },
						]}
						value={by}
						onChange={(next) => setBy(next ?? "by_compartment")}
					/>
					<div class="rows part-tight">
						{aged.list[by].map((group) => (
							<Group
								key={group.key}
								group={group}
								open={open === group.key}
								onToggle={(now) => setOpen(now ? group.key : null)}
							/>
						))}
					</div>
				</>
			) : (
				<p class="part-note">Nothing that goes back has come out yet.</p>
			)}
		</ListFrame>
	);
}

function Totals({ list }: { list: PutBackList }) {
	const items = list.by_system.flatMap((group) => group.items);
	const back = items.filter(isBack).reduce((sum, { count }) => sum + count, 0);
	return (
		<dl class="totals">
			<div>
				<dt>back in place</dt>
				<dd>{back}</dd>
			</div>
			<div>
				<dt>still ashore</dt>
				<dd>{list.total - back}</dd>
			</div>
			<div>
				<dt>missing or not decided</dt>
				<dd>{list.missing}</dd>
			</div>
		</dl>
	);
}

/** As this phone knows it: a tick counts at once, whatever the server's list still says. */
function isBack({ key, state }: BackItem): boolean {
	const item = boat.table("item").value.get(key);
	return item ? !isOut(item) : state === "back";
}

interface GroupProps {
	group: BackGroup;
	open: boolean;
	onToggle: (open: boolean) => void;
}

function Group({ group, open, onToggle }: GroupProps) {
	const back = group.items.filter(isBack).reduce((sum, { count }) => sum + count, 0);
	return (
		<details open={open} onToggle={(event) => onToggle(event.currentTarget.open)}>
			<summary>
				<span class="row-main">
					<span class="row-title">{group.name}</span>
					{group.path.length > 1 && (
						<span class="row-under">{group.path.slice(0, -1).join(", ")}</span>
					)}
				</span>
				<span class="group-left">
					{back === group.total ? (
						<State is="out">all back</State>
					) : (
						<>
							<b>{group.total - back}</b>
							of {group.total} to go
						</>
					)}
				</span>
			</summary>
			{open && <OnPhotographs items={group.items} />}
			{open && (
				<ol class="inset rows">
					<Growing of={group.items}>{(item) => <Row key={item.key} line={item} />}</Growing>
				</ol>
			)}
		</details>
	);
}

/** The photographs that these items are pinned on, each pin with the number of its item below. */
function OnPhotographs({ items }: { items: readonly BackItem[] }) {
	const numbers = new Map(items.map(({ key, order }) => [key, order]));
	const photos = new Map(
		items.flatMap(({ key }) => pinnedPhotos(key).map((photo) => [photo.key, photo] as const)),
	);
	return (
		<>
			{[...photos.values()].map((photo) => {
				const pins = pinsOn(photo.key)
					.filter(({ item }) => numbers.has(item))
					.map((pin) => ({ ...pin, number: numbers.get(pin.item) as number }));
				const said = pins.map((pin) => `${pin.number} ${spotWords(pin)}`).join("; ");
				return (
					<a key={photo.key} class="pin-picture-link part-tight" href={PATHS.photo(photo.key)}>
						<PinnedPicture
							photo={photo}
							pins={pins}
							label={`Where they sat, by the numbers of the list: ${said}`}
						/>
					</a>
				);
			})}
		</>
	);
}

function Row({ line }: { line: BackItem }) {
	const [said, setSaid] = useState<string | null>(null);
	const item = boat.table("item").value.get(line.key);
	const back = isBack(line);
	const tick = async (): Promise<void> => {
		if (!item) return;
		setSaid(await keepOrSay([{ table: "item", key: item.key, set: ticked(!back) }]));
	};
	return (
		<li class="row back-row">
			<span class="back-number">{line.order}</span>
			<RowPicture of={`item/${line.key}`} />
			<span class="row-main">
				<a class="row-title" href={PATHS.item(line.key)}>
					{line.count > 1 ? `${line.name}, ${line.count} pieces` : line.name}
				</a>
				<Facts line={line} />
				{said && (
					<Notice sort="asks" role="alert">
						{said}
					</Notice>
				)}
			</span>
			<button
				type="button"
				class="button back-tick"
				aria-pressed={back}
				aria-label={back ? `Not back: ${line.name}` : `Back in place: ${line.name}`}
				disabled={!item}
				onClick={() => void tick()}
			>
				{back ? "✓ back" : "Back"}
			</button>
		</li>
	);
}

/** Undoing a tick leaves it ashore, where it was. */
function ticked(back: boolean): Partial<Omit<Item, "key">> {
	if (back) return { whereabouts: "aboard", back_at: new Date().toISOString(), place: null };
	return { whereabouts: "ashore", back_at: null };
}

function Facts({ line }: { line: BackItem }) {
	return (
		<>
			{line.sat && <span class="row-under">{line.sat}</span>}
			{line.fastened && <span class="row-under">fastened: {line.fastened}</span>}
			{line.joins.map((join) => (
				<span class="row-under" key={`${join.label} ${join.to}`}>
					{[join.label, join.to].filter(Boolean).join(" to ")}
					{join.joined && `, ${join.joined}`} {join.tags[0] && <Code>{shown(join.tags[0])}</Code>}
				</span>
			))}
			{line.note && <span class="row-under">{line.note}</span>}
			{line.place.length > 0 && <span class="row-under">lies in {line.place.join(", ")}</span>}
			{line.tags[0] && <Code>{shown(line.tags[0])}</Code>}
			{line.after.length > 0 && <State is="waits">{`after: ${line.after.join("; ")}`}</State>}
			{line.missing && <State is="waits">{line.missing}</State>}
		</>
	);
}
