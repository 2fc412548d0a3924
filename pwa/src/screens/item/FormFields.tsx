/** The form that a mass can be worked out from, and the core of a panel that has one. */
import type { Item } from "../../domain/contract.ts";
import { SHAPES } from "../../domain/fields.ts";
import { rules } from "../../storage/rules.ts";
import { SelectField } from "../../ui/Field.tsx";
import { sentence } from "../../ui/words.ts";
import type { SetItem } from "./setItem.ts";

type Form = NonNullable<Item["form"]>;

const { form: SHAPE } = SHAPES.item;
const FORMS = (SHAPE?.is === "choice" ? SHAPE.of : []) as readonly Form[];

export function FormFields({ item, set }: { item: Item; set: SetItem }) {
	return (
		<>
			<SelectField
				label="Form, to work its mass out"
				value={item.form ?? ""}
				onChange={(text) => void set({ form: text === "" ? null : (text as Form) })}
			>
				<option value="">As its kind</option>
				{FORMS.map((form) => (
					<option key={form} value={form}>
						{sentence(form)}
					</option>
				))}
			</SelectField>
			{item.form === "cored panel" && (
				<SelectField
					label="Material of the core"
					value={item.core_material ?? ""}
					onChange={(text) => void set({ core_material: text || null })}
				>
					<option value="">Not known</option>
					{rules.value?.materials.map(({ id, name }) => (
						<option key={id} value={id}>
							{name}
						</option>
					))}
				</SelectField>
			)}
		</>
	);
}
