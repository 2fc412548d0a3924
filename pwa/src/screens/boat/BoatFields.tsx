/** Name, measures and rules of the boat; each is kept as it is left. */
import type { Boat } from "../../domain/contract.ts";
import { parseLengthMm } from "../../domain/measure.ts";
import { boat } from "../../storage/boat.ts";
import { rules } from "../../storage/rules.ts";
import { Choice } from "../../ui/Choice.tsx";
import { SelectField, TextField } from "../../ui/Field.tsx";
import { theBoat } from "../common/drawn.ts";
import { keepOrSay } from "../common/keeping.ts";
import { LocalRulesState } from "../common/LocalRulesState.tsx";

export const BEAM_HINT = "3.5 m, 11 ft 6 in";
export const DRAUGHT_HINT = "1.6 m, 5 ft 3 in";

export function BoatFields() {
	const key = boat.key.value;
	const record = theBoat();
	if (!key) return null;
	const set = (values: Partial<Omit<Boat, "key">>): void => {
		void keepOrSay([{ table: "boat", key, set: values }]);
	};
	return (
		<>
			<TextField
				label="Name"
				value={record?.name ?? ""}
				longest={200}
				onKeep={(name) => {
					if (name === "") return "A boat needs a name; the old one stays until you give another.";
					set({ name });
					return null;
				}}
			/>
			<div class="pair-of-fields">
				<Metres label="Length" value={record?.length_m} onKeep={(length_m) => set({ length_m })} />
				<Metres
					label="Beam"
					hint={BEAM_HINT}
					value={record?.beam_m}
					onKeep={(beam_m) => set({ beam_m })}
				/>
				<Metres
					label="Draught"
					hint={DRAUGHT_HINT}
					value={record?.draught_m}
					onKeep={(draught_m) => set({ draught_m })}
				/>
				<TextField
					label="Year built"
					inputMode="numeric"
					value={record?.built ? String(record.built) : ""}
					onKeep={(text) => {
						const built = text === "" ? null : Number(text);
						if (built !== null && !(Number.isInteger(built) && built >= 1800 && built <= 2100))
							return `“${text}” is no year. Write four digits, like 1979.`;
						set({ built });
						return null;
					}}
				/>
			</div>
			<TextField
				label="Owner, as lists and labels name them"
				value={record?.owner ?? ""}
				longest={200}
				onKeep={(owner) => {
					set({ owner: owner || null });
					return null;
				}}
			/>
			<TextField
				label="Where she lies"
				value={record?.lies_at ?? ""}
				longest={200}
				onKeep={(lies_at) => {
					set({ lies_at: lies_at || null });
					return null;
				}}
			/>
			<RuleFields
				ruleSet={record?.rule_set ?? null}
				area={record?.rule_area ?? null}
				holder={record?.holder ?? null}
				onRuleSet={(rule_set) => set({ rule_set, rule_area: null })}
				onArea={(rule_area) => set({ rule_area })}
				onHolder={(holder) => set({ holder })}
			/>
		</>
	);
}

interface MetresProps {
	label: string;
	hint?: string;
	/** A station may be 0, the stem itself; a length may not. */
	zero?: boolean;
	value: number | null | undefined;
	onKeep: (metres: number | null) => void;
	/** Told with each text that is read: why it can't be, or null where it can. */
	onFault?: (fault: string | null) => void;
}

/** A length of the boat: metres when no unit is written, for nobody gives a boat in millimetres. */
export function Metres({
	label,
	hint = "11.2 m, 37 ft",
	zero = false,
	value,
	onKeep,
	onFault,
}: MetresProps) {
	return (
		<TextField
			label={label}
			value={value === null || value === undefined ? "" : `${value} m`}
			hint={hint}
			onKeep={(text) => {
				let fault: string | null = null;
				try {
					if (text === "") onKeep(null);
					else onKeep(zero && /^0+([.,]0*)?\s*m?$/.test(text) ? 0 : readMetres(text));
				} catch (error) {
					if (!(error instanceof Error)) throw error;
					fault = error.message;
				}
				onFault?.(fault);
				return fault;
			}}
		/>
	);
}

/** Throws Unreadable. */
export function readMetres(text: string): number {
	const withUnit = /^[\d.,]+$/.test(text.trim()) ? `${text.trim()} m` : text;
	return Math.round(parseLengthMm(withUnit, undefined, "11.2 m or 37 ft")) / 1000;
}

interface RuleProps {
	ruleSet: string | null;
	holder: Boat["holder"];
	area?: string | null;
	onRuleSet: (id: string) => void;
	onArea?: (id: string) => void;
	onHolder: (holder: Boat["holder"]) => void;
}

/** The rules may not have arrived on a new phone; these four are always there. */
const RULE_SETS = [
	{ id: "eu", name: "European list of waste" },
	{ id: "gb", name: "Great Britain, list of waste" },
	{ id: "us-federal", name: "United States, federal" },
	{ id: "ca-bc", name: "Canada, British Columbia" },
];

export function RuleFields({ ruleSet, holder, area, onRuleSet, onArea, onHolder }: RuleProps) {
	const sets = rules.value?.rule_sets ?? RULE_SETS;
	const known = ruleSet === null || sets.some(({ id }) => id === ruleSet);
	const areas = rules.value?.rule_sets.find(({ id }) => id === ruleSet)?.areas ?? [];
	return (
		<>
			<SelectField label="Waste rules of the place" value={ruleSet ?? ""} onChange={onRuleSet}>
				<option value="" disabled>
					Choose
				</option>
				{!known && <option value={ruleSet ?? ""}>{ruleSet}, not on the server now</option>}
				{sets.map(({ id, name }) => (
					<option key={id} value={id}>
						{name}
					</option>
				))}
			</SelectField>
			{onArea && areas.length > 0 && (
				<SelectField label="Where in it she lies" value={area ?? ""} onChange={onArea}>
					<option value="" disabled>
						Choose
					</option>
					{areas.map(({ id, name }) => (
						<option key={id} value={id}>
							{name.charAt(0).toUpperCase() + name.slice(1)}
						</option>
					))}
				</SelectField>
			)}
			<LocalRulesState />
			<Choice
				name="boat-holder"
				legend="Whose waste it is"
				options={[
					{ value: "household", label: "Household" },
					{ value: "business", label: "Business" },
				]}
				value={holder}
				onChange={onHolder}
			/>
		</>
	);
}
