/** What lay in the crate while it was weighed: everything, until somebody takes a tick away. */
import type { Item } from "../../domain/contract.ts";
import { itemName } from "../../domain/names.ts";
import { rules } from "../../storage/rules.ts";
import { count } from "../../ui/words.ts";
import { whereItSat } from "../common/ItemTag.tsx";
import { TickRow, turned } from "../common/TickRow.tsx";

interface Props {
	items: readonly Item[];
	left: ReadonlySet<string>;
	onChange: (left: ReadonlySet<string>) => void;
}

export function Ticked({ items, left, onChange }: Props) {
	if (items.length === 0)
		return (
			<p class="part-note">
				Nothing is recorded as being in it. Put items in first, and the mass is shared out over
				them.
			</p>
		);
	return (
		<details class="fold weigh-ticks">
			<summary>
				<span class="row-main">
					<span class="row-title">{count(items.length - left.size, "item")} on the scale</span>
					<span class="row-under">
						{left.size === 0
							? "All that is in it; open to take ticks off"
							: `${left.size} in it were left out`}
					</span>
				</span>
			</summary>
			<div class="rows">
				{items.map((item) => (
					<TickRow
						key={item.key}
						title={itemName(item, rules.value)}
						under={whereItSat(item)}
						ticked={!left.has(item.key)}
						onTurn={() => onChange(turned(left, item.key))}
					/>
				))}
			</div>
		</details>
	);
}
