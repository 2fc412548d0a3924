/** The inside of a tank: its shape and sizes, a sounding, and what the server made of the last one. */
import { useState } from "preact/hooks";
import type { Item, Tank } from "../../domain/contract.ts";
import { itemName } from "../../domain/names.ts";
import { refusedSizes } from "../../domain/sounding.ts";
import { boat, newKey } from "../../storage/boat.ts";
import { rules } from "../../storage/rules.ts";
import { Choice } from "../../ui/Choice.tsx";
import { SelectField } from "../../ui/Field.tsx";
import { Cautions, Notice } from "../../ui/Notice.tsx";
import { Screen } from "../../ui/Screen.tsx";
import { keepOrSay } from "../common/keeping.ts";
import { Missing } from "../item/Missing.tsx";
import { PATHS } from "../paths.ts";
import { DipLines } from "./DipLines.tsx";
import { FillCan } from "./FillCan.tsx";
import { LastSounding } from "./LastSounding.tsx";
import { NumberField } from "./NumberField.tsx";
import { ShapeDrawing } from "./ShapeDrawing.tsx";
import { SoundIt } from "./SoundIt.tsx";

const SHAPES = [
	{ value: "box", label: "Box" },
	{ value: "wedge", label: "Wedge" },
	{ value: "v-bottom", label: "V bottom" },
	{ value: "lying cylinder", label: "Lying round" },
	{ value: "standing cylinder", label: "Standing round" },
	{ value: "dip table", label: "Dip table" },
] as const;

const ENDS = [
	{ value: "flat", label: "Flat" },
	{ value: "dished", label: "Dished, measured" },
	{ value: "torispherical 6 %", label: "Dished, knuckle 6 %" },
	{ value: "torispherical 10 %", label: "Dished, knuckle 10 %" },
] as const;

type Size =
	| "length_mm"
	| "width_mm"
	| "bottom_width_mm"
	| "height_mm"
	| "v_height_mm"
	| "diameter_mm";

const BOX: readonly (readonly [Size, string])[] = [
	["length_mm", "L, length"],
	["width_mm", "B, width"],
	["height_mm", "H, height"],
];
const ROUND: readonly (readonly [Size, string])[] = [
	["diameter_mm", "D, diameter"],
	["length_mm", "L, without ends"],
];
const SIZES: Readonly<Record<NonNullable<Tank["shape"]>, readonly (readonly [Size, string])[]>> = {
	box: BOX,
	wedge: [...BOX, ["bottom_width_mm", "C, floor width"]],
	"v-bottom": [...BOX, ["v_height_mm", "V, height of the V"]],
	"lying cylinder": ROUND,
	"standing cylinder": ROUND,
	"dip table": [],
};

export function TankScreen({ itemKey }: { itemKey: string }) {
	const item = boat.table("item").value.get(itemKey);
	if (!item) return <Missing itemKey={itemKey} />;
	const tank = [...boat.table("tank").value.values()].find(({ of }) => of === itemKey) ?? null;
	const liquid = rules.value?.liquids?.find(({ id }) => id === tank?.liquid);
	return (
		<Screen title={`Inside: ${itemName(item, rules.value)}`} backTo={PATHS.item(itemKey)}>
			<Cautions of={cautionsFor(liquid?.cautions)} />
			{tank?.shape && <SoundIt tank={tank} />}
			{tank && <LastSounding tank={tank} />}
			{tank && <FillCan item={item} tank={tank} />}
			<Inside item={item} tank={tank} />
		</Screen>
	);
}

/** Those of its liquid, then those of every tank; both come with the rules. */
function cautionsFor(liquid: readonly string[] = []): readonly string[] {
	return [...new Set([...liquid, ...(rules.value?.tank_cautions ?? [])])];
}

function Inside({ item, tank }: { item: Item; tank: Tank | null }) {
	const [fault, setFault] = useState<string | null>(null);
	const [key] = useState(() => tank?.key ?? newKey());
	const set = (values: Partial<Tank>): void => {
		const whole = tank ? values : { of: item.key, ...values };
		void keepOrSay([{ table: "tank", key: tank?.key ?? key, set: whole }]).then(setFault);
	};
	const shape = tank?.shape ?? null;
	const refused = tank && refusedSizes(tank);
	return (
		<section class="part">
			<h2>Its inside</h2>
			<Choice
				name="tank-shape"
				legend="Shape"
				wrap
				options={SHAPES}
				value={shape}
				onChange={(value) => set({ shape: value })}
			/>
			{shape && <ShapeDrawing shape={shape} />}
			{tank && shape && <Sizes tank={tank} shape={shape} set={set} />}
			{refused && <Notice sort="asks">Kept, but it gives no litres yet: {refused}</Notice>}
			{tank && shape === "dip table" && <DipLines tank={tank} />}
			{tank && <Liquid tank={tank} set={set} />}
			{fault && (
				<Notice sort="asks" role="alert">
					{fault}
				</Notice>
			)}
		</section>
	);
}

interface PartProps {
	tank: Tank;
	set: (values: Partial<Tank>) => void;
}

function Sizes({ tank, shape, set }: PartProps & { shape: NonNullable<Tank["shape"]> }) {
	const round = shape === "lying cylinder" || shape === "standing cylinder";
	return (
		<>
			{round && (
				<Choice
					name="tank-ends"
					legend="Ends"
					wrap
					options={ENDS}
					value={tank.ends ?? "flat"}
					onChange={(ends) => set({ ends })}
				/>
			)}
			<div class="pair-of-fields">
				{SIZES[shape].map(([name, label]) => (
					<NumberField
						key={name}
						label={`${label}, mm`}
						value={tank[name]}
						onKeep={(value) => set({ [name]: value })}
					/>
				))}
				{round && tank.ends === "dished" && (
					<NumberField
						label="A, depth of an end, mm"
						value={tank.dish_mm}
						onKeep={(dish_mm) => set({ dish_mm })}
					/>
				)}
			</div>
			{shape !== "dip table" && <Pipe tank={tank} set={set} />}
		</>
	);
}

function Pipe({ tank, set }: PartProps) {
	return (
		<details>
			<summary>
				<span class="row-main">How it lies, and where the dip pipe is</span>
			</summary>
			<Choice
				name="tank-lies"
				legend="Its length lies"
				value={tank.lies ?? "along"}
				options={[
					{ value: "along", label: "Along the boat" },
					{ value: "across", label: "Across" },
				]}
				onChange={(lies) => set({ lies })}
			/>
			<NumberField
				label="Pipe from the forward (port) end, mm"
				value={tank.pipe_from_end_mm}
				onKeep={(pipe_from_end_mm) => set({ pipe_from_end_mm })}
			/>
			<NumberField
				label="Pipe from the port (forward) side, mm"
				value={tank.pipe_from_side_mm}
				onKeep={(pipe_from_side_mm) => set({ pipe_from_side_mm })}
			/>
			<NumberField
				label="Mark for ullage over the lowest point, mm"
				value={tank.pipe_top_mm}
				onKeep={(pipe_top_mm) => set({ pipe_top_mm })}
			/>
			<NumberField
				label="What the pump leaves, litres"
				value={tank.unpumpable_l}
				onKeep={(unpumpable_l) => set({ unpumpable_l })}
			/>
		</details>
	);
}

function Liquid({ tank, set }: PartProps) {
	return (
		<SelectField
			label="What is in it"
			value={tank.liquid ?? ""}
			onChange={(liquid) => set({ liquid: liquid || null })}
		>
			<option value="">Not said</option>
			{(rules.value?.liquids ?? []).map(({ id, name }) => (
				<option key={id} value={id}>
					{name}
				</option>
			))}
		</SelectField>
	);
}
