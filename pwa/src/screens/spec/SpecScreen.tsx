/** What is to be bought for one line, said once for every run and part of it, and kept at once. */
import { useState } from "preact/hooks";
import type { RenewalLine, Spec } from "../../domain/contract.ts";
import { boat } from "../../storage/boat.ts";
import { rules } from "../../storage/rules.ts";
import { lists } from "../../sync/lists.ts";
import { SelectField, TextField } from "../../ui/Field.tsx";
import { Cautions, Notice } from "../../ui/Notice.tsx";
import { Screen } from "../../ui/Screen.tsx";
import { count } from "../../ui/words.ts";
import { keepOrSay } from "../common/keeping.ts";
import { LengthField } from "../common/LengthField.tsx";
import { NoLine } from "../order/LineScreen.tsx";
import { offersFor, renewalLine, shortSpec } from "../order/lines.ts";
import { PATHS } from "../paths.ts";
import { CableFields, HoseFields, PartFields, StandardFields } from "./SpecFields.tsx";
import { fixedWords } from "./specWords.ts";

export type SetSpec = (values: Partial<Omit<Spec, "key">>) => void;

export function SpecScreen({ id }: { id: string }) {
	const [fault, setFault] = useState<string | null>(null);
	const line = renewalLine(id);
	if (!line) return <NoLine />;
	const spec = boat.table("spec").value.get(id) ?? null;
	const set: SetSpec = (values) => {
		const words = shortSpec(line).slice(0, 200);
		void keepOrSay([{ table: "spec", key: id, set: { line: words, ...values } }]).then(setFault);
	};
	const caution = rules.value?.renewal?.services.find(
		(service) => service.id === (spec?.service ?? line.service),
	)?.caution;
	return (
		<Screen title="What to buy" under={shortSpec(line)} backTo={PATHS.renewals}>
			<p class="part-note">
				Said once here, it counts for {howMany(line)}. Each field is kept on this phone as you leave
				it.
			</p>
			{fault && (
				<Notice sort="danger" word="Not kept" role="alert">
					{fault}
				</Notice>
			)}
			{caution && <Cautions of={[caution]} />}
			<Counts line={line} spec={spec} />
			{line.section === "hose" && <HoseFields line={line} spec={spec} set={set} />}
			{line.section === "cable" && <CableFields spec={spec} set={set} />}
			<StandardFields line={line} spec={spec} set={set} />
			{line.section === "" && <PartFields line={line} spec={spec} set={set} />}
			{line.runs.length > 0 && <AddedFields line={line} spec={spec} set={set} />}
			<OtherFields line={line} spec={spec} set={set} />
			<section class="part">
				<h2>Prices and reels</h2>
				<p class="part-note">
					{offersFor(id).length === 0
						? "No price yet. Reels and lengths on offer are written with their prices."
						: `${count(offersFor(id).length, "price")} so far.`}
				</p>
				<div class="buttons">
					<a class="button" href={PATHS.orderLine(id)}>
						Prices, reels and how it is cut
					</a>
				</div>
			</section>
		</Screen>
	);
}

function howMany(line: RenewalLine): string {
	if (line.runs.length > 0) return count(line.count, "run");
	return line.count === 1 ? "the one piece" : `all ${line.count} pieces`;
}

interface Props {
	line: RenewalLine;
	spec: Spec | null;
	set: SetSpec;
}

/** What stands so far: what somebody fixed, what is assumed where nobody did, and what is open. */
function Counts({ line, spec }: Omit<Props, "set">) {
	const fixed = fixedWords(spec, rules.value?.renewal ?? null);
	return (
		<>
			<Sentences title="Fixed so far" of={fixed} none="Nothing yet: all of it is assumed." />
			<Sentences title="Assumed where nothing is fixed" of={line.assumed} />
			<Sentences title="Still open" of={line.open_questions} />
			<p class="part-note">
				What is assumed and open is from the last list of the server; what you fix now is in its
				next one.
			</p>
		</>
	);
}

function Sentences({ title, of, none }: { title: string; of: readonly string[]; none?: string }) {
	if (of.length === 0 && !none) return null;
	return (
		<section class="part">
			<h2>{title}</h2>
			{of.length === 0 && <p class="part-note">{none}</p>}
			<ul class="steps small">
				{of.map((say) => (
					<li key={say}>{say}</li>
				))}
			</ul>
		</section>
	);
}

/** What is ordered on top of what the runs measure. */
function AddedFields({ line, spec, set }: Props) {
	const percent = spec?.allowance == null ? "" : String(Number((spec.allowance * 100).toFixed(1)));
	return (
		<section class="part">
			<h2>More than it measures</h2>
			<TextField
				label="More by, %"
				inputMode="decimal"
				value={percent}
				hint={`Left empty: ${Math.round(line.allowance * 100)} %.`}
				onKeep={(text) => {
					if (text === "") {
						set({ allowance: null });
						return null;
					}
					const read = Number(text.replace(",", ".").replace(/\s*%$/, ""));
					if (!Number.isFinite(read) || read < 0 || read > 100)
						return `“${text}” was not kept and stays as you typed it: write a number of per cent, 0 to 100.`;
					set({ allowance: Number((read / 100).toFixed(4)) });
					return null;
				}}
			/>
			<LengthField
				label="More for each end"
				mm={spec?.each_end_mm ?? null}
				hint="100 mm, 4 in"
				mostMm={2_000}
				onKeep={(each_end_mm) => void set({ each_end_mm })}
			/>
		</section>
	);
}

function OtherFields({ line, spec, set }: Props) {
	const others = (lists.value.renewals?.list.lines ?? []).filter(
		({ kind, id, section }) => id !== line.id && kind === line.kind && section === line.section,
	);
	return (
		<section class="part">
			<h2>What else to say</h2>
			<TextField
				label="May be replaced by"
				value={spec?.substitute ?? ""}
				longest={200}
				hint="What you take if they have none of it."
				onKeep={(text) => void set({ substitute: text || null })}
			/>
			{others.length > 0 && (
				<SelectField
					label="Buy it as another line"
					value={spec?.bought_as ?? ""}
					hint="Where two sizes or units stand for the same thing: they are then bought and cut together."
					onChange={(other) => set({ bought_as: other || null })}
				>
					<option value="">No, as it is</option>
					{others.map((other) => (
						<option key={other.id} value={other.id}>
							{shortSpec(other)}
						</option>
					))}
				</SelectField>
			)}
			<TextField
				label="Note for the order"
				value={spec?.note ?? ""}
				longest={4000}
				multiline
				onKeep={(note) => void set({ note: note || null })}
			/>
		</section>
	);
}
