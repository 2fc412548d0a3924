/** Filling in an item by the stove: every field is kept when it is left, nothing waits for a button. */
import { useState } from "preact/hooks";
import { itemName, kindOf } from "../../domain/names.ts";
import { cautionsOf } from "../../domain/waste.ts";
import { boat } from "../../storage/boat.ts";
import { rules } from "../../storage/rules.ts";
import { Cautions, Notice } from "../../ui/Notice.tsx";
import { go } from "../../ui/router.ts";
import { Screen } from "../../ui/Screen.tsx";
import { Mark } from "../../ui/State.tsx";
import { clock } from "../../ui/words.ts";
import { ItemTag } from "../common/ItemTag.tsx";
import { keepOrSay, keptAt } from "../common/keeping.ts";
import { PATHS } from "../paths.ts";
import { JoinsEditor } from "./JoinsEditor.tsx";
import { MeasureFields } from "./MeasureFields.tsx";
import { Missing } from "./Missing.tsx";
import { StateFields } from "./StateFields.tsx";
import type { SetItem } from "./setItem.ts";
import { WasteFields } from "./WasteFields.tsx";
import { WhatFields } from "./WhatFields.tsx";
import "./item.css";

export function EditItem({ itemKey }: { itemKey: string }) {
	const [fault, setFault] = useState<string | null>(null);
	const item = boat.table("item").value.get(itemKey);
	if (!item) return <Missing itemKey={itemKey} />;
	const set: SetItem = async (fields) => {
		const why = await keepOrSay([{ table: "item", key: itemKey, set: fields }]);
		setFault(why);
		return why;
	};
	// The bin shows it first, with the way back: a glove meets this button sooner than a finger.
	const bin = async (): Promise<void> => {
		if (!(await set({ binned: true }))) go(PATHS.bin, { replace: true });
	};
	return (
		<Screen title={`Fill in: ${itemName(item, rules.value)}`} backTo={PATHS.item(itemKey)}>
			<ItemTag item={item} untitled />
			<KeptLine fault={fault} />
			<Cautions of={cautionsOf(item, kindOf(item, rules.value), rules.value)} />
			<WhatFields item={item} set={set} />
			<StateFields item={item} set={set} />
			<JoinsEditor item={item} set={set} />
			<MeasureFields item={item} set={set} />
			<WasteFields item={item} set={set} />
			<div class="buttons part">
				<a class="button button-main" href={PATHS.item(itemKey)}>
					Show the item
				</a>
				<button type="button" class="button" onClick={() => void bin()}>
					Put in the bin
				</button>
			</div>
		</Screen>
	);
}

function KeptLine({ fault }: { fault: string | null }) {
	if (fault)
		return (
			<Notice sort="danger" word="Not kept" role="alert">
				{fault}
			</Notice>
		);
	const at = keptAt.value;
	return (
		<p class="kept-line small">
			{at ? (
				<span class="state state-out">
					<Mark is="out" /> Kept on this phone, {clock(at)}
				</span>
			) : (
				<span class="pencil">Each field is kept as you leave it.</span>
			)}
		</p>
	);
}
