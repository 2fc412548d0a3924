/** One question that only a person can answer, as the field that answers it. */
import type { Item } from "../../domain/contract.ts";
import { Choice } from "../../ui/Choice.tsx";
import { TextField } from "../../ui/Field.tsx";

export type AnswerField =
	| "soaked_in"
	| "leaking"
	| "damaged"
	| "drained"
	| "emptied"
	| "cured"
	| "liquid"
	| "flash_point_c"
	| "halogens_ppm"
	| "lead"
	| "asbestos"
	| "pcb"
	| "refrigerant"
	| "filling"
	| "fluorinated"
	| "battery_out"
	| "deregistered"
	| "ionising";

type Words = readonly (readonly [string, string])[];

interface Asked {
	readonly label: string;
	/** The words to choose from; none where a number is asked for. */
	readonly words?: Words;
	/** A number: its unit, its bounds, and where a person finds it. */
	readonly number?: {
		readonly unit: string;
		readonly low: number;
		readonly high: number;
		readonly hint: string;
	};
}

const YES_NO = [
	["yes", "Yes"],
	["no", "No"],
] as const;
const FOUND = [
	["found", "Found"],
	["not found", "Not found"],
] as const;

/** The field's label, and what may be answered. */
export const ANSWERS: Readonly<Record<AnswerField, Asked>> = {
	soaked_in: {
		label: "Soaked in",
		words: sameWords("mineral oil", "drying oil", "solvent", "fuel", "water", "clean"),
	},
	leaking: { label: "Leaking", words: YES_NO },
	damaged: { label: "Swollen, dented, hot or wet", words: YES_NO },
	drained: { label: "Drained", words: YES_NO },
	emptied: { label: "Empty", words: YES_NO },
	cured: { label: "Cured through", words: YES_NO },
	liquid: {
		label: "What the liquid is",
		words: sameWords(
			"diesel",
			"petrol",
			"mixed fuel",
			"oil",
			"coolant",
			"solvent",
			"acid or lye",
			"water",
		),
	},
	flash_point_c: {
		label: "Flash point, in °C",
		number: {
			unit: "°C",
			low: -60,
			high: 400,
			hint: "From the laboratory or the safety data sheet.",
		},
	},
	halogens_ppm: {
		label: "Halogens, in ppm",
		number: { unit: "ppm", low: 0, high: 1_000_000, hint: "From a test kit or the laboratory." },
	},
	lead: { label: "Tested for lead", words: FOUND },
	asbestos: { label: "Tested for asbestos", words: FOUND },
	pcb: {
		label: "PCB",
		words: [...FOUND, ["made after 1980", "Made after 1980"]],
	},
	refrigerant: {
		label: "Refrigerant",
		words: [
			["CFC, HCFC or HFC", "CFC, HCFC or HFC"],
			["hydrocarbon", "Hydrocarbon, burns"],
			["ammonia", "Ammonia"],
			["recovered", "Taken out, certified"],
		],
	},
	filling: {
		label: "Filled with",
		words: sameWords("halon", "powder", "foam", "water", "carbon dioxide"),
	},
	fluorinated: { label: "Fluorine in the foam", words: YES_NO },
	battery_out: { label: "Battery taken out", words: YES_NO },
	deregistered: { label: "Registry told", words: YES_NO },
	ionising: { label: "Radiation sign on it", words: YES_NO },
};

interface Props {
	item: Item;
	field: AnswerField;
	/** The question itself, where the list asks it; else the field's own label. */
	ask?: string;
	onKeep: (set: Partial<Omit<Item, "key">>) => Promise<string | null>;
}

export function Answer({ item, field, ask, onKeep }: Props) {
	const { label, words, number } = ANSWERS[field];
	const value = item[field];
	if (number)
		return (
			<TextField
				label={ask ?? label}
				value={value === null ? "" : String(value)}
				hint={number.hint}
				onKeep={(text) => {
					const given = text === "" ? null : Number(text.replace(",", ".").replace(UNITS, ""));
					if (given !== null && !(given >= number.low && given <= number.high))
						return `“${text}” can't be right. Write a number from ${number.low} to ${number.high} ${number.unit}.`;
					void onKeep({ [field]: given });
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
			options={(words ?? []).map(([value, word]) => ({ value, label: word }))}
			value={asWord(value)}
			onChange={(word) => void onKeep({ [field]: asValue(field, word) })}
		/>
	);
}

/** What people write behind a number. */
const UNITS = /\s*(°?\s*c|ppm)$/i;

export function isAnswerField(field: string): field is AnswerField {
	return Object.hasOwn(ANSWERS, field);
}

function asWord(value: string | number | boolean | null): string | null {
	if (typeof value === "boolean") return value ? "yes" : "no";
	return value === null ? null : String(value);
}

function asValue(field: AnswerField, word: string | null): string | boolean | null {
	if (word === null) return null;
	return ANSWERS[field].words === YES_NO ? word === "yes" : word;
}

/** Choices that are written as they are stored, with a capital letter. */
function sameWords(...values: string[]): Words {
	return values.map((value) => [value, `${value.charAt(0).toUpperCase()}${value.slice(1)}`]);
}
