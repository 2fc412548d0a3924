/** How the boat floats now and after the work, and what she is known to float by. */
import type { Boat, Floats, Reach, TrimList } from "../../domain/contract.ts";
import { boat } from "../../storage/boat.ts";
import { lists } from "../../sync/lists.ts";
import { SelectField } from "../../ui/Field.tsx";
import { Notice } from "../../ui/Notice.tsx";
import { Screen } from "../../ui/Screen.tsx";
import { ago } from "../../ui/words.ts";
import { theBoat } from "../common/drawn.ts";
import { keepOrSay } from "../common/keeping.ts";
import { PATHS } from "../paths.ts";
import { NumberField } from "../tank/NumberField.tsx";
import { TrimPicture } from "./TrimPicture.tsx";

export function Trim() {
	const aged = lists.value.trim;
	const base = `/api/boats/${boat.key.value}/lists/trim`;
	const under = aged
		? `Worked out by the server ${ago(Date.parse(aged.madeAt), Date.now())}.`
		: "The result comes with the server's next list; what you enter is kept at once.";
	return (
		<Screen title="Trim" under={under} backTo={PATHS.boat}>
			{aged && <States list={aged.list} />}
			<FloatFields />
			<section class="part">
				<h2>Print</h2>
				<div class="buttons">
					<a class="button" href={`${base}.pdf`} target="_blank" rel="noreferrer">
						The trim (PDF)
					</a>
					<a class="button" href={`${base}.csv`} download="trim.csv">
						Table (CSV)
					</a>
				</div>
				<p class="part-note">The server prints, so this needs a connection to it.</p>
			</section>
		</Screen>
	);
}

function States({ list }: { list: TrimList }) {
	return (
		<>
			{list.missing.length > 0 && (
				<Notice sort="asks">Not reckoned yet: {list.missing.join("; ")}</Notice>
			)}
			{list.states.map((state) => (
				<State key={state.id} list={list} state={state} />
			))}
			<ul class="small">
				{list.warnings.map((text) => (
					<li key={text}>{text}</li>
				))}
			</ul>
			<details>
				<summary>
					<span class="row-main">
						<span class="row-title">What is behind it</span>
					</span>
				</summary>
				<ul class="small inset">
					{list.facts.map((fact) => (
						<li key={fact.name}>
							{fact.name}: {spread(fact.value, 2)} {fact.unit}, {fact.how}
						</li>
					))}
				</ul>
			</details>
		</>
	);
}

function State({ list, state }: { list: TrimList; state: Floats }) {
	const lines: [string, string | null][] = [
		["Mass on, off below 0", `${spread(state.mass, 0)} kg`],
		["Deeper amidships", cm(state.sinkage_cm)],
		["Deeper at the bow", cm(state.fore_cm)],
		["Deeper at the stern", cm(state.aft_cm)],
		["Draught forward", metres(state.draught_fore_m)],
		["Draught aft", metres(state.draught_aft_m)],
		["List to starboard", state.list_deg ? `${spread(state.list_deg, 1)}°` : null],
	];
	return (
		<section class="part">
			<h2>{state.name}</h2>
			{state.sinkage_cm && <TrimPicture shape={list.shape} state={state} />}
			<ul>
				{lines.map(([name, said]) =>
					said ? (
						<li key={name}>
							{name}: <b>{said}</b>
						</li>
					) : null,
				)}
			</ul>
			{state.refused.map((why) => (
				<Notice key={why} sort="asks">
					{why}
				</Notice>
			))}
		</section>
	);
}

type Figure = Exclude<
	{ [K in keyof Boat]: Boat[K] extends number | null ? K : never }[keyof Boat],
	"key"
>;

const FIGURES: readonly (readonly [Figure, string, number, number])[] = [
	["waterline_m", "Waterline, m", 0, 200],
	["waterline_beam_m", "Beam at the waterline, m", 0, 200],
	["bow_overhang_m", "Stem to fore end of the waterline, m", 0, 200],
	["displacement_kg", "Displacement, kg", 0, 100_000],
	["waterplane_m2", "Area of the waterplane, m²", 0, 10_000],
	["float_centre_m", "Centre of floating, m from the stem", 0, 200],
	["trim_moment", "Moment for 1 cm of trim, kg m", 0, 1_000_000],
	["gm_m", "GM, m", -5, 20],
	["draught_fore_m", "Draught forward before, m", 0, 200],
	["draught_aft_m", "Draught aft before, m", 0, 200],
];

function FloatFields() {
	const record = theBoat();
	const key = boat.key.value;
	if (!key) return null;
	const set = (values: Partial<Omit<Boat, "key">>): void => {
		void keepOrSay([{ table: "boat", key, set: values }]);
	};
	return (
		<section class="part">
			<h2>How she floats</h2>
			<p class="part-note">
				From her lines, a surveyor or the tape. What is left empty is estimated from her size, and
				said to be; GM is never guessed.
			</p>
			<div class="pair-of-fields">
				{FIGURES.map(([name, label, low, high]) => (
					<NumberField
						key={name}
						label={label}
						value={record?.[name] ?? null}
						low={low}
						high={high}
						onKeep={(value) => set({ [name]: value })}
					/>
				))}
			</div>
			<SelectField
				label="She floats in"
				value={record?.afloat_in ?? ""}
				onChange={(text) => set({ afloat_in: text === "" ? null : (text as Boat["afloat_in"]) })}
			>
				<option value="">Sea water, until somebody says</option>
				<option value="sea">Sea water</option>
				<option value="brackish">Brackish water</option>
				<option value="fresh">Fresh water</option>
			</SelectField>
		</section>
	);
}

function spread({ low, likely, high }: Reach, digits: number): string {
	const [a, b, c] = [low, likely, high].map((value) => value.toFixed(digits));
	return `${b} (${a} to ${c})`;
}

function cm(value: Reach | null): string | null {
	return value && `${spread(value, 1)} cm`;
}

function metres(value: number | null): string | null {
	return value === null ? null : `${value.toFixed(2)} m`;
}
