/** Where an item sits by the tape, and what it is bolted to: lifts and trim reckon with it. */
import type { Item } from "../../domain/contract.ts";
import { itemName } from "../../domain/names.ts";
import { boat } from "../../storage/boat.ts";
import { rules } from "../../storage/rules.ts";
import { SelectField } from "../../ui/Field.tsx";
import { keepOrSay } from "../common/keeping.ts";
import { NumberField } from "../tank/NumberField.tsx";

export function BoltedPart({ item }: { item: Item }) {
	const set = (values: Partial<Omit<Item, "key">>): void => {
		void keepOrSay([{ table: "item", key: item.key, set: values }]);
	};
	const near = [...boat.table("item").value.values()].filter(
		(other) =>
			other.key === item.part_of ||
			(other.key !== item.key && other.compartment === item.compartment),
	);
	return (
		<details>
			<summary>
				<span class="row-main">
					<span class="row-title">Where it sits, and what it is bolted to</span>
				</span>
			</summary>
			<div class="inset">
				<p class="part-note">
					In metres: aft of the stem, to starboard of the middle (port below 0), up from the keel.
				</p>
				<div class="pair-of-fields">
					<NumberField
						label="Aft, m"
						value={item.aft_m}
						low={-200}
						high={200}
						onKeep={(aft_m) => set({ aft_m })}
					/>
					<NumberField
						label="To starboard, m"
						value={item.off_m}
						low={-200}
						high={200}
						onKeep={(off_m) => set({ off_m })}
					/>
					<NumberField
						label="Up, m"
						value={item.up_m}
						low={-200}
						high={200}
						onKeep={(up_m) => set({ up_m })}
					/>
				</div>
				<SelectField
					label="Bolted to, and lifted with"
					value={item.part_of ?? ""}
					onChange={(key) => set({ part_of: key || null })}
				>
					<option value="">Nothing</option>
					{near.map((other) => (
						<option key={other.key} value={other.key}>
							{itemName(other, rules.value)}
						</option>
					))}
				</SelectField>
				{item.part_of && (
					<YesNo
						label="Is its mass in that of the whole?"
						value={item.mass_apart === null ? null : !item.mass_apart}
						onChange={(inIt) => set({ mass_apart: inIt === null ? null : !inIt })}
					/>
				)}
				<YesNo
					label="Is it new, and goes in without having come out?"
					value={item.never_aboard}
					onChange={(never_aboard) => set({ never_aboard })}
				/>
			</div>
		</details>
	);
}

interface YesNoProps {
	label: string;
	value: boolean | null;
	onChange: (value: boolean | null) => void;
}

function YesNo({ label, value, onChange }: YesNoProps) {
	return (
		<SelectField
			label={label}
			value={value === null ? "" : value ? "yes" : "no"}
			onChange={(text) => onChange(text === "" ? null : text === "yes")}
		>
			<option value="">Not said</option>
			<option value="yes">Yes</option>
			<option value="no">No</option>
		</SelectField>
	);
}
