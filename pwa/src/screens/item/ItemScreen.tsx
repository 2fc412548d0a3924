/** One item as its tag, and everything known of it. */
import { useState } from "preact/hooks";
import { shrink } from "../../camera/shrink.ts";
import { pathsOf } from "../../domain/apart.ts";
import type { Item } from "../../domain/contract.ts";
import { codesOn, itemName, kindOf } from "../../domain/names.ts";
import { isOut } from "../../domain/recount.ts";
import { shown } from "../../domain/tag.ts";
import { cautionsOf } from "../../domain/waste.ts";
import { boat, newKey } from "../../storage/boat.ts";
import { rules } from "../../storage/rules.ts";
import { Cautions, Notice } from "../../ui/Notice.tsx";
import { Screen } from "../../ui/Screen.tsx";
import { State } from "../../ui/State.tsx";
import { Code } from "../../ui/Tag.tsx";
import { sentence } from "../../ui/words.ts";
import { PathSteps } from "../boxes/PathSteps.tsx";
import { FileButton } from "../common/FileButton.tsx";
import { ItemState, ItemTag } from "../common/ItemTag.tsx";
import { keepOrSay } from "../common/keeping.ts";
import { liesIn } from "../common/whereItStands.ts";
import { LiftPart } from "../lift/LiftPart.tsx";
import { RenewPart } from "../order/RenewPart.tsx";
import { OrdersPart } from "../orders/OrdersPart.tsx";
import { PATHS } from "../paths.ts";
import { photoFields } from "../takeOut/edits.ts";
import { TankPart } from "../tank/TankPart.tsx";
import { WirePart } from "../wire/WirePart.tsx";
import { Facts } from "./Facts.tsx";
import { ItemHistory } from "./ItemHistory.tsx";
import { Joins } from "./Joins.tsx";
import { MassPart } from "./MassPart.tsx";
import { Missing } from "./Missing.tsx";
import { Photos } from "./Photos.tsx";
import { Disagreeing } from "./WasteFields.tsx";
import { WhereItSat } from "./WhereItSat.tsx";
import "./item.css";

export function ItemScreen({ itemKey }: { itemKey: string }) {
	const item = boat.table("item").value.get(itemKey);
	if (!item) return <Missing itemKey={itemKey} />;
	const codes = codesOn(boat.table("tag").value, `item/${itemKey}`);
	return (
		<Screen title={itemName(item, rules.value)} backTo={PATHS.find}>
			<ItemTag item={item} untitled large>
				{liesIn(item) && <p class="tag-in">In {liesIn(item)}</p>}
				<span class="item-state">
					<ItemState item={item} />
					{item.condition && item.condition !== "unknown" && (
						<State is="plain">{sentence(item.condition)}</State>
					)}
					<FateState item={item} />
				</span>
			</ItemTag>
			<div class="part-tight">
				<Cautions of={cautionsOf(item, kindOf(item, rules.value), rules.value)} />
				<Disagreeing item={item} />
				<PathSteps of={pathsOf(item, kindOf(item, rules.value), rules.value)} />
			</div>
			<Actions item={item} />
			<WhereItSat item={item} />
			<Photos target={`item/${itemKey}`} />
			<Facts item={item} />
			<MassPart item={item} />
			<TankPart item={item} />
			<RenewPart item={item} />
			<WirePart item={item} />
			<LiftPart item={item} />
			<Joins item={item} />
			<OrdersPart target={`item/${itemKey}`} />
			{codes.length > 1 && (
				<section class="part">
					<h2>Tags</h2>
					<p class="part-note tag-line">
						{codes.map((code) => (
							<Code key={code}>{shown(code)}</Code>
						))}
					</p>
				</section>
			)}
			<ItemHistory item={item} />
		</Screen>
	);
}

function FateState({ item }: { item: Item }) {
	if (item.fate === null || item.fate === "undecided")
		return <State is="waits">Fate undecided</State>;
	return <State is={item.fate === "waste" ? "danger" : "plain"}>{sentence(item.fate)}</State>;
}

function Actions({ item }: { item: Item }) {
	const [fault, setFault] = useState<string | null>(null);
	const photograph = async (file: File): Promise<void> => {
		setFault(null);
		try {
			const picture = await shrink(file);
			const set = photoFields(`item/${item.key}`, picture, new Date().toISOString());
			setFault(await keepOrSay([{ table: "photo", key: newKey(), set }], [picture]));
		} catch (error) {
			setFault(error instanceof Error ? error.message : String(error));
		}
	};
	return (
		<>
			<div class="buttons">
				{isOut(item) ? (
					<a class="button button-main" href={PATHS.putAway(item.key)}>
						Put away
					</a>
				) : (
					<a class="button button-main" href={PATHS.takeOutItem(item.key)}>
						Take out
					</a>
				)}
				<a class="button" href={PATHS.editItem(item.key)}>
					Fill in
				</a>
				<FileButton class="button" onFile={(file) => void photograph(file)}>
					Photograph
				</FileButton>
			</div>
			{fault && (
				<div class="part-tight">
					<Notice sort="asks" role="alert">
						{fault}
					</Notice>
				</div>
			)}
		</>
	);
}
