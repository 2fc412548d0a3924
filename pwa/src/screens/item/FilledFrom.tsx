/** Which tank a can was filled from; asked of liquids, and of whatever says so already. */
import type { Item } from "../../domain/contract.ts";
import { itemName } from "../../domain/names.ts";
import { boat } from "../../storage/boat.ts";
import { rules } from "../../storage/rules.ts";
import { SelectField } from "../../ui/Field.tsx";
import type { SetItem } from "./setItem.ts";

export function FilledFrom({ item, set }: { item: Item; set: SetItem }) {
	const items = boat.table("item").value;
	const liquids = rules.value?.liquids ?? [];
	const isLiquid = liquids.some(
		({ kinds = [], sludge_kinds = [] }) =>
			item.kind && [...kinds, ...sludge_kinds].includes(item.kind),
	);
	const tanks = [...boat.table("tank").value.values()]
		.map(({ of }) => items.get(of ?? ""))
		.filter((tank): tank is Item => tank !== undefined && tank.key !== item.key);
	if ((!isLiquid && item.drawn_from === null) || tanks.length === 0) return null;
	return (
		<SelectField
			label="Filled from"
			hint="The litres are then off the tank, and count once."
			value={item.drawn_from ?? ""}
			onChange={(key) => void set({ drawn_from: key || null })}
		>
			<option value="">No tank said</option>
			{tanks.map((tank) => (
				<option key={tank.key} value={tank.key}>
					{itemName(tank, rules.value)}
				</option>
			))}
		</SelectField>
	);
}
