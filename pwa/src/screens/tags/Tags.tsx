/** Tags to print: blank ones for the shed, or filled ones for what is already taken out. */
import { useState } from "preact/hooks";
import { boat } from "../../storage/boat.ts";
import { askedInVain, SyncTrouble } from "../../sync/problem.ts";
import { newBlock, reserve, type TagBlock } from "../../sync/tags.ts";
import { Choice } from "../../ui/Choice.tsx";
import { SelectField, TextField } from "../../ui/Field.tsx";
import { Notice } from "../../ui/Notice.tsx";
import { Screen } from "../../ui/Screen.tsx";
import { count } from "../../ui/words.ts";
import { PATHS } from "../paths.ts";
import { PrintLink } from "./PrintLink.tsx";
import { sheetUrl } from "./sheetUrl.ts";
import { WhichCodes } from "./WhichCodes.tsx";

const SHEETS = [
	["a4", "A4 sheet, 10 tags to cut apart"],
	["letter", "Letter sheet, 10 tags to cut apart"],
	["roll-54x101", "Roll, 54 × 101 mm"],
	["roll-62x100", "Roll, 62 × 100 mm"],
	["roll-102x152", "Roll, 102 × 152 mm"],
] as const;

const MOST = 500;
/** Beyond this the address of the sheet would get longer than servers take. */
const MOST_PICKED = 200;

export type Which = "new" | "reserve" | "used";

export function Tags() {
	const [sheet, setSheet] = useState<string>("a4");
	const [which, setWhich] = useState<Which>("new");
	return (
		<Screen
			title="Tags to print"
			under={`${count(reserve.value.length, "code")} on this phone for use with no signal`}
			backTo={PATHS.boat}
		>
			<Choice
				name="which"
				legend="Which tags"
				wrap
				options={[
					{ value: "new", label: "New, blank" },
					{ value: "reserve", label: "This phone's next" },
					{ value: "used", label: "Already used" },
				]}
				value={which}
				onChange={(next) => setWhich(next ?? "new")}
			/>
			<SelectField label="Paper" value={sheet} onChange={setSheet}>
				{SHEETS.map(([id, name]) => (
					<option key={id} value={id}>
						{name}
					</option>
				))}
			</SelectField>
			{which === "new" && <NewTags sheet={sheet} />}
			{which === "reserve" && <Reserve sheet={sheet} />}
			{which === "used" && <WhichCodes sheet={sheet} />}
			<p class="part part-note">
				Print at actual size on waterproof card. Each tag has its code twice as a QR symbol and once
				in letters, so that one dirty end can still be read.
			</p>
		</Screen>
	);
}

/** Codes are made by the server, so blank tags need a connection; the sheet can be printed again. */
function NewTags({ sheet }: { sheet: string }) {
	const [number, setNumber] = useState(20);
	const [block, setBlock] = useState<TagBlock | null>(null);
	const [fault, setFault] = useState<string | null>(null);
	const make = async (): Promise<void> => {
		setFault(null);
		try {
			setBlock(await newBlock(number));
		} catch (error) {
			if (!(error instanceof SyncTrouble)) throw error;
			setFault(`No tags were made. ${askedInVain(error.problem)}`);
		}
	};
	return (
		<>
			<TextField
				label="How many"
				inputMode="numeric"
				value={String(number)}
				onKeep={(text) => {
					const wanted = Number(text);
					if (!Number.isInteger(wanted) || wanted < 1 || wanted > MOST)
						return `“${text}” tags can't be made. Write a whole number from 1 to ${MOST}.`;
					setNumber(wanted);
					return null;
				}}
			/>
			{fault && (
				<Notice sort="asks" role="alert">
					{fault}
				</Notice>
			)}
			<div class="buttons">
				<button type="button" class="button button-wide" onClick={() => void make()}>
					Make {count(number, "new code")}
				</button>
			</div>
			{block && (
				<>
					<Notice sort="done" role="status">
						{count(block.codes.length, "new code")}, given to nobody else.
					</Notice>
					<PrintLink
						href={sheetUrl(boat.key.value ?? "", { sheet, look: "blank", block: block.block })}
						words={`Print ${count(block.codes.length, "tag")}`}
					/>
				</>
			)}
		</>
	);
}

function Reserve({ sheet }: { sheet: string }) {
	const codes = reserve.value.slice(0, MOST_PICKED);
	if (codes.length === 0)
		return (
			<div class="empty part">
				<h2>No codes on this phone</h2>
				<p>They come by themselves when the server is reached.</p>
			</div>
		);
	return (
		<>
			<p class="field">
				These are the codes that “next tag” gives out. Print them beforehand, and hang each on the
				item that took its code.
			</p>
			<PrintLink
				href={sheetUrl(boat.key.value ?? "", { sheet, look: "blank", codes })}
				words={`Print ${count(codes.length, "tag")}`}
			/>
		</>
	);
}
