/** One question that only a person can answer, as the field that answers it. */
import type { Item } from "../../domain/contract.ts";
import { Choice } from "../../ui/Choice.tsx";
import { TextField } from "../../ui/Field.tsx";

export type AnswerField =
	| "soaked_in"
	| "leaking"
	| "drained"
	| "lead"
	| "asbestos"
	| "flash_point_c";

const YES_NO = [
	["yes", "Yes"],
	["no", "No"],
] as const;
const FOUND = [
	["found", "Found"],
	["not found", "Not found"],
] as const;

/** The field's label and the words to choose from; null where a number is asked for. */
export const ANSWERS: Readonly<
	Record<AnswerField, { label: string; words: readonly (readonly [string, string])[] | null }>
> = {
	soaked_in: {
		label: "Soaked in",
		words: [
			["mineral oil", "Mineral oil"],
			["drying oil", "Drying oil"],
			["solvent", "Solvent"],
			["fuel", "Fuel"],
			["water", "Water"],
			["clean", "Clean"],
		],
	},
	leaking: { label: "Leaking", words: YES_NO },
	drained: { label: "Drained", words: YES_NO },
	lead: { label: "Tested for lead", words: FOUND },
	asbestos: { label: "Tested for asbestos", words: FOUND },
	flash_point_c: { label: "Flash point, in °C", words: null },
};

interface Props {
	item: Item;
	field: AnswerField;
	/** The question itself, where the list asks it; else the field's own label. */
	ask?: string;
	onKeep: (set: Partial<Omit<Item, "key">>) => Promise<string | null>;
}

export function Answer({ item, field, ask, onKeep }: Props) {
	const { label, words } = ANSWERS[field];
	if (!words)
		return (
			<TextField
				label={ask ?? label}
				value={item.flash_point_c === null ? "" : String(item.flash_point_c)}
				hint="From the laboratory or the safety data sheet."
				onKeep={(text) => {
					const value =
						text === "" ? null : Number(text.replace(",", ".").replace(/\s*°?\s*c$/i, ""));
					if (value !== null && !(value >= -60 && value <= 400))
						return `“${text}” can't be a flash point. Write degrees Celsius from -60 to 400.`;
					void onKeep({ flash_point_c: value });
					return null;
				}}
			/>
		);
	return (
		<Choice
			name={`${field} of ${item.key}`}
			legend={ask ?? label}
			wrap
			clears
			options={words.map(([value, word]) => ({ value, label: word }))}
			value={asWord(item[field])}
			onChange={(word) => void onKeep({ [field]: asValue(field, word) })}
		/>
	);
}

export function isAnswerField(field: string): field is AnswerField {
	return Object.hasOwn(ANSWERS, field);
}

function asWord(value: string | number | boolean | null): string | null {
	if (typeof value === "boolean") return value ? "yes" : "no";
	return value === null ? null : String(value);
}

function asValue(field: AnswerField, word: string | null): string | boolean | null {
	if (word === null) return null;
	return field === "leaking" || field === "drained" ? word === "yes" : word;
}
