/** Putting away: scan the crate, or choose the place. */
import { useState } from "preact/hooks";
import { itemName } from "../../domain/names.ts";
import { boat, newKey } from "../../storage/boat.ts";
import { rules } from "../../storage/rules.ts";
import { Icon } from "../../ui/Icon.tsx";
import { Notice } from "../../ui/Notice.tsx";
import { go } from "../../ui/router.ts";
import { Screen } from "../../ui/Screen.tsx";
import { ItemTag } from "../common/ItemTag.tsx";
import { keepOrSay } from "../common/keeping.ts";
import { PickSheet } from "../common/PickSheet.tsx";
import { ScanBox } from "../common/ScanBox.tsx";
import { ownerOf } from "../common/tagOwner.ts";
import { placeWords } from "../common/whereItStands.ts";
import { PATHS } from "../paths.ts";
import { Missing } from "./Missing.tsx";

export function PutAway({ itemKey }: { itemKey: string }) {
	const [way, setWay] = useState<"scan" | "choose" | null>(null);
	const [fault, setFault] = useState<string | null>(null);
	const item = boat.table("item").value.get(itemKey);
	if (!item) return <Missing itemKey={itemKey} />;
	const put = async (
		place: string | null,
		first: Parameters<typeof keepOrSay>[0] = [],
	): Promise<void> => {
		const set = {
			place,
			whereabouts: "ashore",
			out_at: item.out_at ?? new Date().toISOString(),
		} as const;
		const why = await keepOrSay([...first, { table: "item", key: itemKey, set }]);
		setFault(why);
		if (!why) go(PATHS.item(itemKey), { replace: true });
	};
	const seen = (code: string): void => {
		const owner = ownerOf(code);
		if (owner.sort === "place") void put(owner.key);
		else if (owner.sort === "free")
			setFault(
				"This tag is on no crate or shelf yet. Put it on one under Boat, Shelves and crates.",
			);
		else
			setFault(`This tag is on ${owner.name}, not on a crate or shelf. Scan the crate's own tag.`);
	};
	const add = (name: string): void => {
		const key = newKey();
		void put(key, [{ table: "place", key, set: { name, sort: "crate" } }]);
	};
	return (
		<Screen title={`Put away: ${itemName(item, rules.value)}`} backTo={PATHS.item(itemKey)}>
			<ItemTag item={item} untitled>
				<span class="small">{placeWords(item.place) || "In no place yet"}</span>
			</ItemTag>
			{fault && (
				<Notice sort="asks" role="alert">
					{fault}
				</Notice>
			)}
			{way === "scan" ? (
				<ScanBox onCode={seen} onClose={() => setWay(null)} />
			) : (
				<div class="buttons">
					<button
						type="button"
						class="button button-main button-wide button-hot"
						onClick={() => setWay("scan")}
					>
						<Icon name="scan" /> Scan the crate
					</button>
					<button type="button" class="button button-wide" onClick={() => setWay("choose")}>
						Choose a place
					</button>
				</div>
			)}
			{way === "choose" && (
				<PickSheet
					title="Where it goes"
					nodes={boat.table("place").value}
					picked={item.place}
					none="In no place"
					addWord="Add crate"
					onAdd={add}
					onPick={(place) => void put(place)}
					onClose={() => setWay(null)}
				/>
			)}
		</Screen>
	);
}
