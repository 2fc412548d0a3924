/** The fields of a spec, by what the line is: hose, cable, or a part with a thread. */
import type { RenewalLine, Spec } from "../../domain/contract.ts";
import { Unreadable } from "../../domain/measure.ts";
import type { PlainPartForPhone } from "../../domain/renewalRules.ts";
import { parseThread } from "../../domain/thread.ts";
import { conductor } from "../../domain/wireSize.ts";
import { rules } from "../../storage/rules.ts";
import { Choice } from "../../ui/Choice.tsx";
import { SelectField, TextField } from "../../ui/Field.tsx";
import { LengthField } from "../common/LengthField.tsx";
import type { SetSpec } from "./SpecScreen.tsx";

interface Props {
	line: RenewalLine;
	spec: Spec | null;
	set: SetSpec;
}

const MOST_BORE_MM = 500;
const CLAMPS = [
	{ value: "0", label: "None" },
	{ value: "1", label: "One" },
	{ value: "2", label: "Two" },
] as const;

export function HoseFields({ line, spec, set }: Props) {
	const services = rules.value?.renewal?.services ?? [];
	const able = services.filter(({ kinds }) => kinds.includes(line.kind));
	return (
		<section class="part">
			<h2>The hose</h2>
			<SelectField
				label="What flows in it"
				value={spec?.service ?? ""}
				onChange={(service) => set({ service: service || null })}
			>
				<option value="">{line.service ? "As assumed" : "Not said yet"}</option>
				{(able.length > 0 ? able : services).map(({ id, name }) => (
					<option key={id} value={id}>
						{name}
					</option>
				))}
			</SelectField>
			<div class="pair-of-fields">
				<LengthField
					label="Inside diameter"
					mm={spec?.bore_mm ?? null}
					mostMm={MOST_BORE_MM}
					onKeep={(bore_mm) => void set({ bore_mm })}
				/>
				<LengthField
					label="Outside, on a tail"
					mm={spec?.outside_mm ?? null}
					mostMm={MOST_BORE_MM}
					onKeep={(outside_mm) => void set({ outside_mm })}
				/>
			</div>
			<Choice
				name="clamps"
				legend="Clamps at each end"
				options={CLAMPS}
				value={CLAMPS.find(({ value }) => value === String(spec?.clamps_each_end))?.value ?? null}
				onChange={(text) => set({ clamps_each_end: text === null ? null : Number(text) })}
				clears
			/>
			<Material spec={spec} set={set} hint="Like nitrile with a steel helix, or silicone." />
		</section>
	);
}

/** The standard to ask for: those of the service, or any in words. */
export function StandardFields({ line, spec, set }: Props) {
	const service = spec?.service ?? line.service;
	const known =
		rules.value?.renewal?.services.find(({ id }) => id === service)?.standards ??
		plainPart(line)?.standards ??
		[];
	const own = spec?.standard ?? "";
	return (
		<section class="part">
			<h2>Standard and grade</h2>
			{known.length > 0 && (
				<SelectField
					label="Standard to ask for"
					value={known.includes(own) ? own : ""}
					onChange={(standard) => set({ standard: standard || null })}
				>
					<option value="">{own ? "In my own words, below" : "As assumed"}</option>
					{known.map((standard) => (
						<option key={standard} value={standard}>
							{standard}
						</option>
					))}
				</SelectField>
			)}
			<TextField
				label={known.length > 0 ? "Or in your own words" : "Standard or grade to ask for"}
				value={known.includes(own) ? "" : own}
				longest={200}
				hint="As it is printed on what you want."
				onKeep={(text) => {
					if (text !== "" || !known.includes(own)) set({ standard: text || null });
				}}
			/>
		</section>
	);
}

const YES_NO = [
	{ value: "yes", label: "Yes" },
	{ value: "no", label: "No" },
] as const;
const INSULATION = [60, 75, 80, 90, 105, 125, 200];

export function CableFields({ spec, set }: Omit<Props, "line">) {
	return (
		<section class="part">
			<h2>The cable</h2>
			<TextField
				label="Conductor"
				value={spec?.conductor ?? ""}
				longest={40}
				hint="Like 2.5 mm2 or AWG 12. Left empty, as it was sized or copied for each run."
				onKeep={(text) => {
					const why = text === "" ? null : unreadConductor(text);
					if (why) return `“${text}” was not kept and stays as you typed it: ${why}`;
					set({ conductor: text || null });
					return null;
				}}
			/>
			<YesNo name="tinned" legend="Tinned" value={spec?.tinned ?? null} set={set} />
			<YesNo
				name="sheathed"
				legend="Conductors in one sheath"
				value={spec?.sheathed ?? null}
				set={set}
			/>
			<SelectField
				label="Insulation stands"
				value={spec?.insulation_c == null ? "" : String(spec.insulation_c)}
				onChange={(text) => set({ insulation_c: text === "" ? null : Number(text) })}
			>
				<option value="">As assumed</option>
				{INSULATION.map((celsius) => (
					<option key={celsius} value={celsius}>
						{celsius} °C
					</option>
				))}
			</SelectField>
			<div class="pair-of-fields">
				<TextField
					label="Cores"
					inputMode="numeric"
					value={spec?.cores == null ? "" : String(spec.cores)}
					onKeep={(text) => {
						if (text !== "" && !/^([1-9]|[1-4]\d|50)$/.test(text))
							return `“${text}” was not kept and stays as you typed it: write a whole number, 1 to 50.`;
						set({ cores: text === "" ? null : Number(text) });
						return null;
					}}
				/>
				<TextField
					label="Colour"
					value={spec?.colour ?? ""}
					longest={200}
					onKeep={(colour) => void set({ colour: colour || null })}
				/>
			</div>
		</section>
	);
}

interface YesNoProps {
	name: "tinned" | "sheathed";
	legend: string;
	value: boolean | null;
	set: SetSpec;
}

function YesNo({ name, legend, value, set }: YesNoProps) {
	return (
		<Choice
			name={`spec-${name}`}
			legend={legend}
			options={YES_NO}
			value={value === null ? null : value ? "yes" : "no"}
			onChange={(word) => set({ [name]: word === null ? null : word === "yes" })}
			clears
		/>
	);
}

/** A plain part has a size that it is sold in; anything else a thread. */
export function PartFields({ line, spec, set }: Props) {
	const plain = plainPart(line);
	return (
		<section class="part">
			<h2>The part</h2>
			{plain ? (
				<PlainSize plain={plain} spec={spec} set={set} />
			) : (
				<ThreadField spec={spec} set={set} />
			)}
			<Material
				spec={spec}
				set={set}
				hint={
					line.material ? `On the old one: ${line.material}.` : "Like bronze, or stainless steel."
				}
			/>
		</section>
	);
}

function plainPart(line: RenewalLine): PlainPartForPhone | undefined {
	return rules.value?.renewal?.parts?.find(({ kinds }) => kinds.includes(line.kind));
}

function PlainSize({ plain, spec, set }: Omit<Props, "line"> & { plain: PlainPartForPhone }) {
	const own = spec?.size ?? "";
	const known = plain.sizes.some(({ name }) => name === own);
	return (
		<>
			{plain.sizes.length > 0 && (
				<SelectField
					label="Size"
					value={known ? own : ""}
					onChange={(size) => set({ size: size || null })}
				>
					<option value="">{own ? "In my own words, below" : "As written on the items"}</option>
					{plain.sizes.map(({ name, about }) => (
						<option key={name} value={name}>
							{name} ({about})
						</option>
					))}
				</SelectField>
			)}
			<TextField
				label={plain.sizes.length > 0 ? "Or its size in your own words" : "Size"}
				value={known ? "" : own}
				longest={200}
				hint={plain.measure}
				onKeep={(size) => {
					if (size !== "" || !known) set({ size: size || null });
				}}
			/>
		</>
	);
}

function Material({ spec, set, hint }: Omit<Props, "line"> & { hint: string }) {
	return (
		<TextField
			label="Made of"
			value={spec?.material ?? ""}
			longest={200}
			hint={hint}
			onKeep={(material) => void set({ material: material || null })}
		/>
	);
}

/** Family and size in one field; only what names its family is kept, because one leaks in another. */
function ThreadField({ spec, set }: Omit<Props, "line">) {
	const value = [spec?.thread_family, spec?.thread_size].filter(Boolean).join(" ");
	return (
		<TextField
			label="Thread"
			value={value.replace(/^metric /, "M")}
			longest={60}
			hint="Family and size: G 3/4, R 3/4, 3/4 NPT, M20."
			onKeep={(text) => {
				if (text === "") {
					set({ thread_family: null, thread_size: null });
					return null;
				}
				const read = readThread(text);
				if (typeof read === "string")
					return `“${text}” was not kept and stays as you typed it: ${read}.`;
				set(read);
				return null;
			}}
		/>
	);
}

function readThread(text: string): Pick<Spec, "thread_family" | "thread_size"> | string {
	const known = rules.value?.renewal;
	if (!known?.thread_sizes)
		return "the thread tables come with the server's rules: send and receive once";
	try {
		const { family, size, shown } = parseThread(text, known);
		if (family === "")
			return `${shown} may be parallel (G, Rp) or taper (R, Rc), and one is not tight in every other: look whether it gets thinner, and write G, Rp, R or Rc`;
		return { thread_family: family as Spec["thread_family"], thread_size: size };
	} catch (error) {
		if (error instanceof Unreadable) return error.message;
		throw error;
	}
}

function unreadConductor(text: string): string | null {
	try {
		const read = conductor(text);
		return typeof read === "string" ? read : null;
	} catch (error) {
		if (error instanceof Unreadable) return error.message;
		throw error;
	}
}
