/** An item that was listed before and is being taken out now: its name, its cautions. */
import { itemName, kindOf } from "../../domain/names.ts";
import { cautionsOf } from "../../domain/waste.ts";
import { boat } from "../../storage/boat.ts";
import { rules } from "../../storage/rules.ts";
import { Cautions } from "../../ui/Notice.tsx";
import { draft, setDraft } from "./draft.ts";

export function OnItsWayOut() {
	const key = draft.value.item;
	const item = key ? boat.table("item").value.get(key) : undefined;
	if (!item) return null;
	return (
		<section class="way-out" aria-label="Taking out">
			<div class="way-out-line">
				<span class="row-main">
					<span class="small pencil">Taking out</span>
					<span class="row-title">{itemName(item, rules.value)}</span>
				</span>
				<button type="button" class="button button-quiet" onClick={() => setDraft({ item: null })}>
					Not this one
				</button>
			</div>
			<Cautions of={cautionsOf(item, kindOf(item, rules.value), rules.value)} />
		</section>
	);
}
