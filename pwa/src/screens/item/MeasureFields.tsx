/** Size, lengths, mass and what a tank or battery holds. A reading that fails says why and stays. */
import type { ComponentChildren } from "preact";
import type { Item } from "../../domain/contract.ts";
import { parseLengthMm, parseMassKg, parseSize } from "../../domain/measure.ts";
import { kindOf } from "../../domain/names.ts";
import { Unreadable } from "../../domain/unreadable.ts";
import { rules } from "../../storage/rules.ts";
import { Choice } from "../../ui/Choice.tsx";
import { TextField } from "../../ui/Field.tsx";
import { FilledFrom } from "./FilledFrom.tsx";
import { FormFields } from "./FormFields.tsx";
import { JointFields } from "./JointFields.tsx";
import type { SetItem } from "./setItem.ts";

interface Props {
	item: Item;
	set: SetItem;
}

type Name =
	| "diameter_mm"
	| "core_mm"
	| "width_mm"
	| "height_mm"
	| "thickness_mm"
	| "volume_l"
	| "capacity_ah"
	| "voltage_v";

const MORE: readonly { name: Name; label: string; unit: string; read: (text: string) => number }[] =
	[
		{ name: "width_mm", label: "Width", unit: "mm", read: parseLengthMm },
		{ name: "height_mm", label: "Height", unit: "mm", read: parseLengthMm },
		{ name: "thickness_mm", label: "Thickness, or wall", unit: "mm", read: parseLengthMm },
		{ name: "diameter_mm", label: "Diameter, outside", unit: "mm", read: parseLengthMm },
		{ name: "core_mm", label: "Thickness of the core", unit: "mm", read: parseLengthMm },
		{
			name: "volume_l",
			label: "Holds, litres",
			unit: "L",
			read: plainNumber("litres", 100_000),
		},
		{
			name: "capacity_ah",
			label: "Capacity, Ah",
			unit: "Ah",
			read: plainNumber("ampere-hours", 5_000),
		},
		{ name: "voltage_v", label: "Voltage", unit: "V", read: plainNumber("volts", 1_000) },
	];

export function MeasureFields({ item, set }: Props) {
	const prompts = kindOf(item, rules.value)?.prompts ?? [];
	const wanted = MORE.filter(({ name }) => prompts.includes(name) || item[name] !== null);
	const others = MORE.filter((field) => !wanted.includes(field));
	return (
		<section class="part">
			<h2>Measures</h2>
			<TextField
				label="Size"
				value={item.size ?? ""}
				hint="As it is sold: 19 mm, 3/4 in, DN 25, AWG 12, 2.5 mm2."
				onKeep={(text) =>
					reading(
						text,
						() => parseSize(text),
						() => set({ size: text || null }),
					)
				}
			/>
			<JointFields item={item} set={set} />
			<div class="pair-of-fields">
				<Length item={item} set={set} />
				<Mass item={item} set={set} />
			</div>
			<FormFields item={item} set={set} />
			<FilledFrom item={item} set={set} />
			{item.mass_kg !== null && (
				<Choice
					name="mass-how"
					legend="How the mass was got"
					wrap
					options={MASS_HOW}
					value={item.mass_how}
					onChange={(mass_how) => void set({ mass_how })}
				/>
			)}
			<Fields>
				{wanted.map((field) => (
					<NumberField key={field.name} field={field} item={item} set={set} />
				))}
			</Fields>
			{others.length > 0 && (
				<details>
					<summary>
						<span class="row-main">More measures</span>
					</summary>
					<Fields>
						{others.map((field) => (
							<NumberField key={field.name} field={field} item={item} set={set} />
						))}
					</Fields>
				</details>
			)}
		</section>
	);
}

const MASS_HOW = [
	{ value: "weighed", label: "Weighed" },
	{ value: "plate", label: "Off a plate" },
	{ value: "calculated", label: "Calculated" },
	{ value: "guessed", label: "Guessed" },
] as const;

function Fields({ children }: { children: ComponentChildren }) {
	return <div class="pair-of-fields">{children}</div>;
}

export function Length({ item, set, label = "Length" }: Props & { label?: string }) {
	return (
		<TextField
			label={label}
			value={item.length_mm === null ? "" : `${item.length_mm} mm`}
			hint="1.2 m, 640 mm, 4 ft"
			onKeep={(text) =>
				reading(
					text,
					() => parseLengthMm(text),
					(length_mm) => set({ length_mm }),
				)
			}
		/>
	);
}

function Mass({ item, set }: Props) {
	return (
		<TextField
			label="Mass"
			value={item.mass_kg === null ? "" : `${item.mass_kg} kg`}
			hint="12 kg, 800 g, 26 lb"
			onKeep={(text) =>
				reading(
					text,
					() => massTyped(text),
					(mass_kg) =>
						set({ mass_kg, mass_how: mass_kg === null ? null : (item.mass_how ?? "guessed") }),
				)
			}
		/>
	);
}

function NumberField({ field, item, set }: Props & { field: (typeof MORE)[number] }) {
	const value = item[field.name];
	return (
		<TextField
			label={field.label}
			inputMode={field.unit === "mm" ? "text" : "decimal"}
			value={value === null ? "" : `${value} ${field.unit}`}
			onKeep={(text) =>
				reading(
					text,
					() => field.read(text),
					(read) => set({ [field.name]: read }),
				)
			}
		/>
	);
}

/** Read, then keep; a text that can't be read comes back as the sentence that says why. */
function reading<R>(
	text: string,
	read: () => R,
	keepIt: (value: R | null) => Promise<string | null>,
): string | null {
	if (text === "") {
		void keepIt(null);
		return null;
	}
	try {
		void keepIt(read());
		return null;
	} catch (error) {
		if (error instanceof Error)
			return `“${text}” was not kept and stays as you typed it: ${error.message}`;
		throw error;
	}
}

/** A mass is more than nothing; only what a scale shows empty may be 0 kg. */
function massTyped(text: string): number {
	const kg = parseMassKg(text);
	if (kg === 0) throw new Unreadable("a mass is more than 0 kg, up to 100 t");
	return kg;
}

function plainNumber(unit: string, most: number): (text: string) => number {
	return (text) => {
		const match = /^(\d+(?:[.,]\d+)?)\s*[a-z]{0,12}$/i.exec(text);
		const value = Number((match?.[1] ?? "").replace(",", "."));
		if (!match || value > most)
			throw new RangeError(`“${text}” can't be read. Write ${unit} as a number up to ${most}.`);
		return value;
	};
}
