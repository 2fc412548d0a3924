/** How it goes back: in order, with joins and fasteners; each ticked as it is in its place again. */
import { useState } from "preact/hooks";
import { newPartOf, tickEdits } from "../../domain/buying.ts";
import type { BackGroup, BackItem, Item, PutBackList } from "../../domain/contract.ts";
import { codesOn, itemName } from "../../domain/names.ts";
import { isOut } from "../../domain/recount.ts";
import { shown } from "../../domain/tag.ts";
import { boat } from "../../storage/boat.ts";
import { rules } from "../../storage/rules.ts";
import { lists } from "../../sync/lists.ts";
import { Choice } from "../../ui/Choice.tsx";
import { Growing } from "../../ui/Growing.tsx";
import { Notice } from "../../ui/Notice.tsx";
import { State } from "../../ui/State.tsx";
import { Code } from "../../ui/Tag.tsx";
import { keepOrSay } from "../common/keeping.ts";
import { RowPicture } from "../common/photos.tsx";
import { ListFrame } from "../lists/ListFrame.tsx";
import { lineOfItem, stateOn } from "../order/lines.ts";
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
				<dd>{items.filter(missingWords).reduce((sum, { count }) => sum + count, 0)}</dd>
			</div>
		</dl>
	);
}

/** The old item of a line, and the new part in its place where this phone knows of one. */
function partsOf(line: BackItem): { old: Item | undefined; part: Item | null } {
	const items = boat.table("item").value;
	const old = line.in_place_of || line.key;
	return { old: items.get(old), part: newPartOf(items, old) };
}

/** As this phone knows it: a tick counts at once, whatever the server's list still says. */
function isBack(line: BackItem): boolean {
	const { old, part } = partsOf(line);
	if (part) return !isOut(part);
	if (!old) return line.state === "back";
	if (!isOut(old)) return true;
	const order = lineOfItem(old);
	return order !== null && stateOn(order) === "fitted";
}

/** Why what is renewed can't go in yet, by what this phone knows; empty where nothing is missing. */
function missingWords(line: BackItem): string {
	const { old, part } = partsOf(line);
	if (part) return part.whereabouts === "gone" ? line.missing : "";
	const order = old ? lineOfItem(old) : null;
	if (!order) return line.missing;
	const state = stateOn(order);
	if (state === "to buy") return "To be renewed, and not bought yet";
	return state === "bought" ? "To be renewed: bought, and not here yet" : "";
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
	// A new part sits where the old one is pinned.
	const numbers = new Map(items.map((line) => [line.in_place_of || line.key, line.order]));
	const photos = new Map(
		[...numbers.keys()].flatMap((key) =>
			pinnedPhotos(key).map((photo) => [photo.key, photo] as const),
		),
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
	const { old, part } = partsOf(line);
	const item = part ?? old;
	const back = isBack(line);
	const order = old ? lineOfItem(old) : null;
	const name = part ? itemName(part, rules.value) : line.name;
	const awaited = !part && !back && order !== null;
	const tick = async (): Promise<void> => {
		if (!item) return;
		const now = new Date().toISOString();
		const edits = part
			? tickEdits(part, !back, now, order, boat.table("item").value)
			: [{ table: "item" as const, key: item.key, set: ticked(!back) }];
		setSaid(await keepOrSay(edits));
	};
	return (
		<li class="row back-row">
			<span class="back-number">{line.order}</span>
			<RowPicture of={`item/${old?.key ?? line.key}`} />
			<span class="row-main">
				<a class="row-title" href={PATHS.item(item?.key ?? line.key)}>
					{line.count > 1 ? `${name}, ${line.count} pieces` : name}
				</a>
				<Facts line={line} part={part} old={old} />
				{said && (
					<Notice sort="asks" role="alert">
						{said}
					</Notice>
				)}
			</span>
			{awaited && old ? (
				<a class="button" href={PATHS.newPart(old.key)} aria-label={`New part for ${name}`}>
					New part
				</a>
			) : (
				<button
					type="button"
					class="button back-tick"
					aria-pressed={back}
					aria-label={back ? `Not back: ${name}` : `Back in place: ${name}`}
					disabled={!item}
					onClick={() => void tick()}
				>
					{back ? "✓ back" : "Put back"}
				</button>
			)}
		</li>
	);
}

/** Undoing a tick leaves it ashore, where it was. */
function ticked(back: boolean): Partial<Omit<Item, "key">> {
	if (back) return { whereabouts: "aboard", back_at: new Date().toISOString(), place: null };
	return { whereabouts: "ashore", back_at: null };
}

interface FactsProps {
	line: BackItem;
	part: Item | null;
	old: Item | undefined;
}

function Facts({ line, part, old }: FactsProps) {
	const tags = boat.table("tag").value;
	const [code] = codesOn(tags, `item/${part?.key ?? line.key}`);
	const [oldCode] = old ? codesOn(tags, `item/${old.key}`) : [];
	const missing = missingWords(line);
	return (
		<>
			{part && old && (
				<span class="row-under">
					new, in the place of {itemName(old, rules.value)}{" "}
					{oldCode && <Code>{shown(oldCode)}</Code>}
				</span>
			)}
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
			{code && <Code>{shown(code)}</Code>}
			{line.after.length > 0 && <State is="waits">{`after: ${line.after.join("; ")}`}</State>}
			{missing && <State is="waits">{missing}</State>}
		</>
	);
}
