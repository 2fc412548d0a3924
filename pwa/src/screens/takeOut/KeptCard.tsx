/** The picture just taken, frozen into its tag: kept, with ten seconds to take it back. */
import { useEffect, useMemo, useState } from "preact/hooks";
import { pathsOf } from "../../domain/apart.ts";
import { itemName, kindOf } from "../../domain/names.ts";
import { shown } from "../../domain/tag.ts";
import { cautionsOf } from "../../domain/waste.ts";
import { boat } from "../../storage/boat.ts";
import { rules } from "../../storage/rules.ts";
import { Icon } from "../../ui/Icon.tsx";
import { Cautions } from "../../ui/Notice.tsx";
import { Mark } from "../../ui/State.tsx";
import { clock } from "../../ui/words.ts";
import { PathSteps } from "../boxes/PathSteps.tsx";
import { NO_COMPARTMENT, whereItSat } from "../common/ItemTag.tsx";
import { PATHS } from "../paths.ts";
import type { Draft } from "./draft.ts";
import type { Taken } from "./edits.ts";

export interface Kept {
	readonly taken: Taken;
	readonly condition: Draft["condition"];
	readonly at: Date;
	readonly thumbnail: ArrayBuffer;
}

export const UNDO_MS = 10_000;

interface Props {
	kept: Kept;
	onUndo: () => void;
	onClose: () => void;
}

export function KeptCard({ kept, onUndo, onClose }: Props) {
	const [undoable, setUndoable] = useState(true);
	useEffect(() => {
		setUndoable(true);
		const timer = setTimeout(setUndoable, UNDO_MS, false);
		return () => clearTimeout(timer);
	}, [kept]);
	const picture = useMemo(
		() => URL.createObjectURL(new Blob([kept.thumbnail], { type: "image/jpeg" })),
		[kept],
	);
	useEffect(() => () => URL.revokeObjectURL(picture), [picture]);
	const item = boat.table("item").value.get(kept.taken.item);
	return (
		<section class="kept" aria-label="Item just kept" key={kept.taken.photo}>
			<div class="tag tag-with-picture">
				<div class="tag-card">
					<span class="tag-hole" aria-hidden="true" />
					<img class="tag-picture" src={picture} alt="What was just taken out" />
					<div class="tag-words">
						<p class="tag-where">{item ? whereItSat(item) : NO_COMPARTMENT}</p>
						<p class="tag-code">{kept.taken.code ? shown(kept.taken.code) : "No tag"}</p>
						{item?.kind && <p class="tag-title">{itemName(item, rules.value)}</p>}
						<p class="kept-state">
							<Mark is="out" /> Kept on this phone, {clock(kept.at)}
						</p>
					</div>
					<div class="kept-buttons">
						{undoable ? (
							<button type="button" class="button" onClick={onUndo}>
								<Icon name="undo" /> Undo
							</button>
						) : (
							<button type="button" class="button" onClick={onClose}>
								<Icon name="close" /> Close
							</button>
						)}
						<a class="button" href={PATHS.editItem(kept.taken.item)}>
							Fill in
						</a>
					</div>
				</div>
			</div>
			{item?.kind && <Cautions of={cautionsOf(item, kindOf(item, rules.value), rules.value)} />}
			{item?.kind && <PathSteps of={pathsOf(item, kindOf(item, rules.value), rules.value)} />}
		</section>
	);
}
