/** What a run carries and how it lies: each field is kept as it is left. */
import type { Item } from "../../domain/contract.ts";
import { Unreadable } from "../../domain/measure.ts";
import { conductor } from "../../domain/wireSize.ts";
import { Choice } from "../../ui/Choice.tsx";
import { SelectField, TextField } from "../../ui/Field.tsx";
import { Length } from "../item/MeasureFields.tsx";
import type { SetItem } from "../item/setItem.ts";
import { PATHS } from "../paths.ts";
import { NumberField } from "../tank/NumberField.tsx";

interface Props {
	item: Item;
	set: SetItem;
	ac: boolean;
}

const YES_NO = [
	{ value: "yes", label: "Yes" },
	{ value: "no", label: "No" },
] as const;
const DUTIES = [
	{ value: "hours", label: "Hours" },
	{ value: "at times", label: "At times" },
	{ value: "seconds", label: "Seconds" },
] as const;
const SAG = [
	{ value: "yes", label: "Must not sag, 3 %" },
	{ value: "no", label: "May, 10 %" },
] as const;
const VOLTS = [
	{ value: "12", label: "12" },
	{ value: "24", label: "24" },
	{ value: "48", label: "48" },
] as const;
const INSULATION = [60, 75, 80, 90, 105, 125, 200];

export function WireFields({ item, set, ac }: Props) {
	return (
		<>
			<section class="part">
				<h2>What it carries</h2>
				<div class="pair-of-fields">
					<Figure label="Load, A" name="load_a" high={2_000} item={item} set={set} />
					<Figure label="Load, W" name="load_w" high={100_000} item={item} set={set} />
				</div>
				{!ac && (
					<Choice
						name="volts"
						legend="Volts"
						options={VOLTS}
						value={VOLTS.find(({ value }) => value === String(item.voltage_v))?.value ?? null}
						onChange={(volts) => void set({ voltage_v: Number(volts) })}
					/>
				)}
				<Figure
					label={ac ? "Volts, AC" : "Other volts"}
					name="voltage_v"
					high={1_000}
					item={item}
					set={set}
				/>
				<Choice
					name="duty"
					legend="It runs for"
					options={DUTIES}
					value={item.duty}
					onChange={(duty) => void set({ duty })}
				/>
				<YesNo name="critical" legend="Its voltage" item={item} set={set} options={SAG} />
				<p class="part-note">
					Navigation lights, bilge pumps and blowers, electronics and the feed of a panel must not
					sag. Motors and lamps in the cabin may.
				</p>
			</section>
			<section class="part">
				<h2>How it lies</h2>
				<div class="pair-of-fields">
					<Length item={item} set={set} label="Length, one way" />
					<Figure label="Way back, mm, if other" name="return_mm" item={item} set={set} />
				</div>
				<YesNo name="hot_space" legend="Through the engine space" item={item} set={set} />
				<YesNo name="sheathed" legend="Both conductors in one sheath" item={item} set={set} />
				<SelectField
					label="Its insulation stands"
					value={item.insulation_c === null ? "" : String(item.insulation_c)}
					onChange={(text) => void set({ insulation_c: text === "" ? null : Number(text) })}
				>
					<option value="">Not known: 60 °C counts</option>
					{insulations(item).map((celsius) => (
						<option key={celsius} value={celsius}>
							{celsius} °C
						</option>
					))}
				</SelectField>
				<div class="pair-of-fields">
					<Figure
						label="Loaded conductors together"
						name="bundled"
						low={1}
						high={500}
						whole
						item={item}
						set={set}
					/>
					<Figure
						label="Warmest air, °C"
						name="ambient_c"
						low={-60}
						high={150}
						item={item}
						set={set}
					/>
				</div>
			</section>
			<section class="part">
				<h2>What is there, and what is taken</h2>
				<Wire label="The old wire" name="size" item={item} set={set} />
				<Wire label="The wire that is taken" name="new_size" item={item} set={set} />
				<Figure label="The old fuse, A" name="fuse_a" high={2_000} item={item} set={set} />
				<TextField
					label="Trunking it runs in"
					value={item.trunking ?? ""}
					longest={200}
					hint="Runs with the same words here share one: “Port, 40 x 25 mm”."
					onKeep={(text) => void set({ trunking: text || null })}
				/>
				<p class="part-note">
					What it joins, and the studs at its ends, are under{" "}
					<a href={PATHS.editItem(item.key)}>Fill in</a>.
				</p>
			</section>
		</>
	);
}

type Numbers = "load_a" | "load_w" | "voltage_v" | "return_mm" | "bundled" | "ambient_c" | "fuse_a";

interface FigureProps extends Omit<Props, "ac"> {
	label: string;
	name: Numbers;
	low?: number;
	high?: number;
	/** No halves of a conductor. */
	whole?: boolean;
}

function Figure({ label, name, low = 0, high = 50_000, whole, item, set }: FigureProps) {
	return (
		<NumberField
			label={label}
			value={item[name]}
			low={low}
			high={high}
			onKeep={(value) => void set({ [name]: whole && value !== null ? Math.ceil(value) : value })}
		/>
	);
}

interface YesNoProps extends Omit<Props, "ac"> {
	name: "critical" | "hot_space" | "sheathed";
	legend: string;
	options?: readonly { value: "yes" | "no"; label: string }[];
}

function YesNo({ name, legend, options = YES_NO, item, set }: YesNoProps) {
	const value = item[name];
	return (
		<Choice
			name={name}
			legend={legend}
			options={options}
			value={value === null ? null : value ? "yes" : "no"}
			onChange={(word) => void set({ [name]: word === null ? null : word === "yes" })}
			clears
		/>
	);
}

function Wire({ label, name, item, set }: Omit<Props, "ac"> & WireProps) {
	return (
		<TextField
			label={label}
			value={item[name] ?? ""}
			hint="Like 2 x 2.5 mm2 or AWG 12."
			onKeep={(text) => {
				const why = text === "" ? null : unread(text);
				if (why) return `“${text}” was not kept and stays as you typed it: ${why}`;
				void set({ [name]: text || null });
				return null;
			}}
		/>
	);
}

interface WireProps {
	label: string;
	name: "size" | "new_size";
}

function unread(text: string): string | null {
	try {
		const read = conductor(text);
		return typeof read === "string" ? read : null;
	} catch (error) {
		if (error instanceof Unreadable) return error.message;
		throw error;
	}
}

/** The classes to choose from, with the one that was written even if it is none of them. */
function insulations({ insulation_c }: Item): number[] {
	const all = insulation_c === null ? INSULATION : [...INSULATION, insulation_c];
	return [...new Set(all)].sort((a, b) => a - b);
}
