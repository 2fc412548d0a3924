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
import "./trim.css";

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
			<section class="part">
				<h2>What to bear in mind</h2>
				{list.warnings.map((text) => (
					<p key={text} class="part-note">
						{text}
					</p>
				))}
			</section>
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
	return (
		<section class="part">
			<h2>{state.name}</h2>
			{state.sinkage_cm && <TrimPicture shape={list.shape} state={state} />}
			<table class="figures">
				<tbody>
					<Way up="Weight on" down="Weight off" value={state.mass} unit="kg" digits={0} />
					<Way
						up="Mean draught, more"
						down="Mean draught, less"
						value={state.sinkage_cm}
						unit="cm"
					/>
					<Way up="At the bow, more" down="At the bow, less" value={state.fore_cm} unit="cm" />
					<Way up="At the stern, more" down="At the stern, less" value={state.aft_cm} unit="cm" />
					<Way up="Trim by the stern" down="Trim by the bow" value={state.trim_cm} unit="cm" />
					<Draught name="Draught fore" metres={state.draught_fore_m} />
					<Draught name="Draught aft" metres={state.draught_aft_m} />
					<Way up="List to starboard" down="List to port" value={state.list_deg} unit="°" />
				</tbody>
			</table>
			{state.refused.map((why) => (
				<Notice key={why} sort="asks">
					{why}
				</Notice>
			))}
		</section>
	);
}

interface WayProps {
	/** What a value above 0 is called, and one below. */
	up: string;
	down: string;
	value: Reach | null;
	unit: string;
	digits?: number;
}

/** A figure whose sign is said in words; one that may lie on either side says so. */
function Way({ up, down, value, unit, digits = 1 }: WayProps) {
	if (!value) return null;
	const { low, likely, high } = value;
	const sign = likely < 0 ? -1 : 1;
	const ends = [sign * low, sign * high].sort((a, b) => a - b);
	const [least = 0, most = 0] = ends;
	const shown = (of: number): string => of.toFixed(digits);
	return (
		<tr>
			<th scope="row">{likely < 0 ? down : up}</th>
			<td>
				<b>
					{shown(Math.abs(likely))}
					{unit === "°" ? unit : ` ${unit}`}
				</b>
				<small>
					{least < 0
						? `up to ${shown(most)}, or ${shown(-least)} the other way`
						: `${shown(least)} to ${shown(most)}`}
				</small>
			</td>
		</tr>
	);
}

function Draught({ name, metres }: { name: string; metres: number | null }) {
	if (metres === null) return null;
	return (
		<tr>
			<th scope="row">{name}</th>
			<td>
				<b>{metres.toFixed(2)} m</b>
			</td>
		</tr>
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
