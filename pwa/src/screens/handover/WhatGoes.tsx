/** Ticks for containers that stand here, and for waste that lies loose. */
import type { Container, Item } from "../../domain/contract.ts";
import { itemName } from "../../domain/names.ts";
import { boat } from "../../storage/boat.ts";
import { rules } from "../../storage/rules.ts";
import { count } from "../../ui/words.ts";
import { itemsIn, streamName, viewOf } from "../boxes/boxWords.ts";
import { whereItSat } from "../common/ItemTag.tsx";
import { TickRow, turned } from "../common/TickRow.tsx";
import { Mass } from "../lists/Mass.tsx";

type Keys = ReadonlySet<string>;

interface Props {
	here: readonly Container[];
	boxes: Keys;
	onBoxes: (keys: Keys) => void;
	loose: Keys;
	onLoose: (keys: Keys) => void;
}

export function WhatGoes({ here, boxes, onBoxes, loose, onLoose }: Props) {
	const items = looseWaste();
	return (
		<>
			<section class="part">
				<h2>Containers that go</h2>
				{here.length === 0 && <p class="part-note">No container stands here.</p>}
				<div class="rows">
					{here.map((box) => {
						const view = viewOf(box.key);
						return (
							<TickRow
								key={box.key}
								title={box.name ?? "Container without a name"}
								under={`${streamName(box.stream)}, ${count(itemsIn(box.key).length, "entry", "entries")}`}
								ticked={boxes.has(box.key)}
								onTurn={() => onBoxes(turned(boxes, box.key))}
							>
								{view && <Mass of={view.inside} />}
							</TickRow>
						);
					})}
				</div>
			</section>
			{items.length > 0 && (
				<details class="fold" open={loose.size > 0}>
					<summary>
						<span class="row-main">
							<span class="row-title">Loose waste</span>
							<span class="row-under">
								{loose.size} of {items.length} go
							</span>
						</span>
					</summary>
					<div class="rows">
						{items.map((item) => (
							<TickRow
								key={item.key}
								title={itemName(item, rules.value)}
								under={whereItSat(item)}
								ticked={loose.has(item.key)}
								onTurn={() => onLoose(turned(loose, item.key))}
							/>
						))}
					</div>
				</details>
			)}
		</>
	);
}

/** Ashore, in no container, and scrap or waste. */
function looseWaste(): Item[] {
	return [...boat.table("item").value.values()].filter(
		(item) =>
			item.whereabouts === "ashore" &&
			item.container === null &&
			(item.fate === "waste" || item.fate === "scrap"),
	);
}
