/** One compartment or system: how much is out, and on a tap what is left in it. */
import type { Item, LeftItem } from "../../domain/contract.ts";
import { itemName } from "../../domain/names.ts";
import type { Tally } from "../../domain/recount.ts";
import { rules } from "../../storage/rules.ts";
import { Growing } from "../../ui/Growing.tsx";
import { State } from "../../ui/State.tsx";
import { count } from "../../ui/words.ts";
import { whereItSat } from "../common/ItemTag.tsx";
import { PATHS } from "../paths.ts";

/** What is known of an item aboard: whether it can come out, else why not. */
export type Known = Pick<LeftItem, "ready" | "waits_for" | "cautions">;

interface Props {
	/** Of the element, so that the drawing can lead here. */
	id: string;
	name: string;
	under: string;
	tally: Tally;
	items: readonly Item[];
	known: ReadonlyMap<string, Known>;
	open: boolean;
	onToggle: (open: boolean) => void;
}

export function Group({ id, name, under, tally, items, known, open, onToggle }: Props) {
	return (
		<details id={id} open={open} onToggle={(event) => onToggle(event.currentTarget.open)}>
			<summary>
				<span class="row-main">
					<span class="row-title">{name}</span>
					{under && <span class="row-under">{under}</span>}
				</span>
				<Share tally={tally} />
				<span class="group-left">
					{tally.left === 0 ? <State is="out">all out</State> : <b>{tally.left}</b>}
					{tally.left > 0 && `of ${tally.total} left`}
				</span>
			</summary>
			{open && (
				<div class="inset rows">
					{items.length === 0 && <p class="row pencil">Nothing left here.</p>}
					<Growing of={items}>
						{(item) => <LeftRow key={item.key} item={item} known={known.get(item.key)} />}
					</Growing>
				</div>
			)}
		</details>
	);
}

function Share({ tally }: { tally: Tally }) {
	const percent = Math.round((100 * tally.out) / tally.total);
	return (
		<span class="share" aria-hidden="true">
			<span style={{ width: `${percent}%` }} />
		</span>
	);
}

function LeftRow({ item, known }: { item: Item; known: Known | undefined }) {
	return (
		<a class="row" href={PATHS.item(item.key)}>
			<span class="row-main">
				<span class="row-title">
					{itemName(item, rules.value)}
					{item.count && item.count > 1 ? `, ${count(item.count, "piece")}` : ""}
				</span>
				<span class="row-under">{item.sat ?? whereItSat(item)}</span>
				<Readiness known={known} />
			</span>
		</a>
	);
}

/** Ready, or what it waits for; an item that the server has not counted yet says so. */
function Readiness({ known }: { known: Known | undefined }) {
	if (!known) return <State is="plain">not in the server's list yet</State>;
	const danger = known.cautions.length > 0 ? <State is="danger">caution</State> : null;
	return (
		<span class="readiness">
			{known.ready ? (
				<State is="plain">ready</State>
			) : (
				<State is="waits">{known.waits_for.join("; ")}</State>
			)}
			{danger}
		</span>
	);
}
