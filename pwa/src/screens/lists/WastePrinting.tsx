/** Waste on paper: the disposal list, labels for the containers, the list as a workbook or table. */
import { useState } from "preact/hooks";
import { boat } from "../../storage/boat.ts";
import { SelectField } from "../../ui/Field.tsx";
import { Icon } from "../../ui/Icon.tsx";

const PAPERS = [
	["", "As usual under these rules"],
	["a4", "A4"],
	["letter", "Letter"],
] as const;

const LABELS = [
	["a6", "A6, up to 50 L"],
	["a5", "A5, up to 500 L"],
	["a4-4", "A4, four to cut apart"],
	["letter-4", "Letter, four to cut apart"],
	["roll-102x152", "Roll 102 × 152 mm"],
] as const;

interface Props {
	/** Which rules, like `rule_set=eu&holder=household`. */
	query: string;
}

export function WastePrinting({ query }: Props) {
	const [paper, setPaper] = useState("");
	const [size, setSize] = useState("a6");
	const key = boat.key.value;
	if (!key) return null;
	const base = `/api/boats/${encodeURIComponent(key)}/lists/waste`;
	const address = (end: string, more: Record<string, string> = {}): string => {
		const asked = new URLSearchParams(query);
		for (const [name, value] of Object.entries(more)) if (value) asked.set(name, value);
		return asked.size ? `${base}${end}?${asked}` : `${base}${end}`;
	};
	return (
		<section class="part">
			<h2>Print</h2>
			<SelectField label="Paper of the list" value={paper} onChange={setPaper}>
				{PAPERS.map(([value, word]) => (
					<option key={value} value={value}>
						{word}
					</option>
				))}
			</SelectField>
			<div class="buttons">
				<a class="button" href={address(".pdf", { paper })} target="_blank" rel="noreferrer">
					<Icon name="print" /> Print (PDF)
				</a>
				<a class="button" href={address(".xlsx")} download="waste.xlsx">
					Workbook (XLSX)
				</a>
				<a class="button" href={address(".csv")} download="waste.csv">
					Table (CSV)
				</a>
			</div>
			<SelectField label="Labels for containers" value={size} onChange={setSize}>
				{LABELS.map(([value, word]) => (
					<option key={value} value={value}>
						{word}
					</option>
				))}
			</SelectField>
			<div class="buttons">
				<a class="button" href={address("-labels.pdf", { size })} target="_blank" rel="noreferrer">
					<Icon name="print" /> Labels (PDF)
				</a>
			</div>
			<p class="part-note">
				The server prints, so this needs a connection to it. Labels are for the containers that
				still stand here. Local rules and licensed firms come first.
			</p>
		</section>
	);
}
