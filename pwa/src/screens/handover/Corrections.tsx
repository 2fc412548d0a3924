/** Corrections of a handover: new entries beside the frozen list, never a change of it. */
import { useState } from "preact/hooks";
import { boat, newKey } from "../../storage/boat.ts";
import { LabelledInput } from "../../ui/LabelledInput.tsx";
import { Notice } from "../../ui/Notice.tsx";
import { day } from "../../ui/words.ts";
import { keepOrSay } from "../common/keeping.ts";

export function Corrections({ handover }: { handover: string }) {
	const [writing, setWriting] = useState(false);
	const rows = [...boat.table("correction").value.values()]
		.filter((row) => row.handover === handover)
		.sort((a, b) => (a.on ?? "").localeCompare(b.on ?? ""));
	return (
		<section class="part">
			<h2>Corrections</h2>
			{rows.length === 0 && (
				<p class="part-note">None. What turns out wrong is written here; the list stays.</p>
			)}
			<div class="rows">
				{rows.map((row) => (
					<div class="row" key={row.key}>
						<span class="row-main">
							<span class="row-title">{row.text}</span>
							<span class="row-under">
								{[
									row.on ? day(new Date(row.on)) : "",
									row.who ?? "no name",
									row.mass_kg === null ? "" : `${row.mass_kg} kg`,
								]
									.filter(Boolean)
									.join(", ")}
							</span>
						</span>
					</div>
				))}
			</div>
			{writing ? (
				<Form handover={handover} onDone={() => setWriting(false)} />
			) : (
				<div class="buttons">
					<button type="button" class="button button-wide" onClick={() => setWriting(true)}>
						Write a correction
					</button>
				</div>
			)}
		</section>
	);
}

function Form({ handover, onDone }: { handover: string; onDone: () => void }) {
	const [text, setText] = useState("");
	const [who, setWho] = useState("");
	const [kg, setKg] = useState("");
	const [fault, setFault] = useState<string | null>(null);
	const keep = async (event: Event): Promise<void> => {
		event.preventDefault();
		const mass = kg.trim() === "" ? null : Number(kg.replace(",", "."));
		if (text.trim() === "") return setFault("Write what was wrong, and what is right.");
		if (who.trim() === "") return setFault("Write who says so.");
		if (mass !== null && !(mass >= 0 && mass <= 100_000))
			return setFault(`“${kg}” is no mass: write kilograms, 0 to 100000, or leave it empty.`);
		const set = {
			handover,
			text: text.trim(),
			who: who.trim(),
			mass_kg: mass,
			on: new Date().toISOString(),
		};
		const why = await keepOrSay([{ table: "correction", key: newKey(), set }]);
		if (why) setFault(why);
		else onDone();
	};
	return (
		<form onSubmit={(event) => void keep(event)}>
			<LabelledInput
				label="What was wrong, and what is right"
				multiline
				longest={4000}
				value={text}
				onType={setText}
			/>
			<LabelledInput label="Who says so" longest={200} value={who} onType={setWho} />
			<LabelledInput
				label="The right mass, kg, if it is about one"
				inputMode="decimal"
				value={kg}
				onType={setKg}
			/>
			{fault && (
				<Notice sort="asks" role="alert">
					{fault}
				</Notice>
			)}
			<button type="submit" class="button button-main button-wide">
				Keep this correction
			</button>
		</form>
	);
}
