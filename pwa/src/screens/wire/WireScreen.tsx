/** How thick a run of cable must be: reckoned on the phone from what is written below. */
import { isAc } from "../../domain/circuit.ts";
import { itemName } from "../../domain/names.ts";
import { sizeWire } from "../../domain/wireSize.ts";
import { boat } from "../../storage/boat.ts";
import { rules } from "../../storage/rules.ts";
import { Cautions, Notice } from "../../ui/Notice.tsx";
import { Screen } from "../../ui/Screen.tsx";
import { keepOrSay } from "../common/keeping.ts";
import { Missing } from "../item/Missing.tsx";
import type { SetItem } from "../item/setItem.ts";
import { asFixed } from "../order/lines.ts";
import { PATHS } from "../paths.ts";
import { WireFields } from "./WireFields.tsx";
import { WireResult } from "./WireResult.tsx";
import "./wire.css";

export function WireScreen({ itemKey }: { itemKey: string }) {
	const item = boat.table("item").value.get(itemKey);
	if (!item) return <Missing itemKey={itemKey} />;
	const wiring = rules.value?.wiring;
	const ac = isAc(item, rules.value);
	const set: SetItem = (fields) => keepOrSay([{ table: "item", key: itemKey, set: fields }]);
	const [standing = "", ...cautions] = wiring?.cautions ?? [];
	return (
		<Screen
			title="How thick the wire must be"
			under={itemName(item, rules.value)}
			backTo={PATHS.item(itemKey)}
		>
			<div class="part-tight">
				{standing && <Notice sort="danger">{standing}</Notice>}
				<Cautions of={cautions} />
			</div>
			{wiring ? (
				<WireResult item={item} sizing={sizeWire(asFixed(item), ac, wiring)} set={set} />
			) : (
				<Notice sort="asks">
					The tables come with the server's rules: go where there is a signal once. What you write
					here is kept.
				</Notice>
			)}
			<WireFields item={item} set={set} ac={ac} />
		</Screen>
	);
}
