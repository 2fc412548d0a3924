/** Lengths that lie in the shed and can be cut for a line; the next plan takes them first. */
import { useState } from "preact/hooks";
import type { Leftover, OrderLine } from "../../domain/contract.ts";
import { pathOf } from "../../domain/tree.ts";
import { boat, newKey } from "../../storage/boat.ts";
import { lists } from "../../sync/lists.ts";
import { SelectField, TextField } from "../../ui/Field.tsx";
import { Notice } from "../../ui/Notice.tsx";
import { Screen } from "../../ui/Screen.tsx";
import { count } from "../../ui/words.ts";
import { keepOrSay } from "../common/keeping.ts";
import { LengthField, lengthText, readLength } from "../common/LengthField.tsx";
import { PickSheet } from "../common/PickSheet.tsx";
import { PATHS } from "../paths.ts";
import { leftByPlans } from "./CutPart.tsx";
import { isRun, leftoversFor, metres, shortSpec, stateOn } from "./lines.ts";

export function Leftovers() {
	const lines = (lists.value.order?.list.lines ?? []).filter(isRun);
	const all = [...boat.table("leftover").value.values()];
	const here = new Map(lines.map((line) => [line.id, line]));
	const groups = [...new Set(all.map(({ spec }) => spec ?? ""))];
	const fromPlans = leftByPlans(lines);
	return (
		<Screen
			title="Leftover lengths"
			under="What lies here and can be cut. The next plan takes it before it buys."
			backTo={PATHS.order}
		>
			<AddLeftover lines={lines} />
			{groups.map((id) => {
				const line = here.get(id);
				return (
					<section class="part" key={id}>
						<h2>{line ? shortSpec(line) : "Of a line that is no longer on the list"}</h2>
						<Rows of={leftoversFor(id)} />
					</section>
				);
			})}
			{fromPlans.length > 0 && (
				<section class="part">
					<h2>What the plans leave over</h2>
					<p class="part-note">
						Once a reel is bought and cut, keep what is left of it as a length that lies here.
					</p>
					<div class="rows">
						{fromPlans.map(({ line, mm }, at) => (
							<Planned key={`${line.id} ${at}`} line={line} mm={mm} />
						))}
					</div>
				</section>
			)}
		</Screen>
	);
}

/** Those of one line, with a way to add another. */
export function LeftoversOf({ line }: { line: OrderLine }) {
	return (
		<section class="part">
			<h2>Lengths that lie here</h2>
			<Rows of={leftoversFor(line.id)} />
			<AddLeftover lines={[line]} />
		</section>
	);
}

function Planned({ line, mm }: { line: OrderLine; mm: number }) {
	const [said, setSaid] = useState<string | null>(null);
	const bought = stateOn(line) !== "to buy";
	const keep = async (): Promise<void> => {
		const set = { spec: line.id, length_mm: mm, count: 1, from_cut: true };
		const fault = await keepOrSay([{ table: "leftover", key: newKey(), set }]);
		setSaid(fault ?? `${metres(mm)} kept on this phone.`);
	};
	return (
		<div class="row">
			<span class="row-main">
				<a class="row-title" href={PATHS.orderLine(line.id)}>
					{shortSpec(line)}
				</a>
				<span class="row-under">
					{metres(mm)}
					{!bought && ", not bought yet"}
				</span>
				{said && <Notice sort="done">{said}</Notice>}
			</span>
			{bought && !said && (
				<button
					type="button"
					class="button"
					aria-label={`Keep it: ${metres(mm)} of ${shortSpec(line)}`}
					onClick={() => void keep()}
				>
					Keep it
				</button>
			)}
		</div>
	);
}

function Rows({ of }: { of: readonly Leftover[] }) {
	if (of.length === 0) return <p class="part-note">None written down.</p>;
	return (
		<div class="rows">
			{of.map((left) => (
				<Row key={left.key} left={left} />
			))}
		</div>
	);
}

function Row({ left }: { left: Leftover }) {
	const [choosing, setChoosing] = useState(false);
	const places = boat.table("place").value;
	const set = (values: Partial<Omit<Leftover, "key">>): void => {
		void keepOrSay([{ table: "leftover", key: left.key, set: values }]);
	};
	const title = left.length_mm === null ? "Length not written" : metres(left.length_mm);
	const where = pathOf(places, left.place).join(", ");
	return (
		<details>
			<summary>
				<span class="row-main">
					<span class="row-title">
						{title}
						{(left.count ?? 1) > 1 && `, ${left.count} times`}
					</span>
					<span class="row-under">
						{where ? `Lies in ${where}` : "Nobody wrote where it lies"}
						{left.from_cut && "; left when this line was cut, so it is for later runs"}
					</span>
				</span>
			</summary>
			<div class="inset">
				<LengthField
					label="How long"
					mm={left.length_mm}
					hint="1.1 m, 4 ft"
					onKeep={(length_mm) => set({ length_mm })}
				/>
				<TextField
					label="How many of this length"
					inputMode="numeric"
					value={String(left.count ?? 1)}
					onKeep={(text) => {
						if (!/^[1-9]\d{0,2}$/.test(text))
							return `“${text}” was not kept and stays as you typed it: write a whole number, 1 to 999.`;
						set({ count: Number(text) });
						return null;
					}}
				/>
				<div class="buttons">
					<button type="button" class="button" onClick={() => setChoosing(true)}>
						{where ? "It lies elsewhere" : "Say where it lies"}
					</button>
					<button type="button" class="button button-quiet" onClick={() => set({ binned: true })}>
						It is used up
					</button>
				</div>
			</div>
			{choosing && (
				<PlaceSheet
					picked={left.place}
					onPick={(place) => {
						setChoosing(false);
						set({ place });
					}}
					onClose={() => setChoosing(false)}
				/>
			)}
		</details>
	);
}

interface SheetProps {
	picked: string | null;
	onPick: (place: string | null) => void;
	onClose: () => void;
}

export function PlaceSheet({ picked, onPick, onClose }: SheetProps) {
	const add = async (name: string): Promise<void> => {
		const key = newKey();
		const edit = { table: "place", key, set: { name, sort: "shelf" } } as const;
		if (!(await keepOrSay([edit]))) onPick(key);
	};
	return (
		<PickSheet
			title="Where it lies"
			nodes={boat.table("place").value}
			picked={picked}
			none="In no place"
			addWord="Add shelf"
			onAdd={(name) => void add(name)}
			onPick={onPick}
			onClose={onClose}
		/>
	);
}

function AddLeftover({ lines }: { lines: readonly OrderLine[] }) {
	const [of, setOf] = useState<string | null>(null);
	const [text, setText] = useState("");
	const [said, setSaid] = useState<{ words: string; fault: boolean } | null>(null);
	const [round, setRound] = useState(0);
	if (lines.length === 0)
		return (
			<p class="part-note">
				No hose or cable is on the order of this phone, so nothing can be cut.
			</p>
		);
	const line = lines.find(({ id }) => id === of) ?? (lines.length === 1 ? lines[0] : undefined);
	const keep = async (): Promise<void> => {
		if (!line) return setSaid({ words: "Say first what it is a length of.", fault: true });
		if (text === "") return setSaid({ words: "Write how long it is, like 1.1 m.", fault: true });
		const read = readLength(text);
		if ("why" in read) return setSaid({ words: read.why, fault: true });
		// What is written down after the line was bought is for what comes to it later.
		const from_cut = stateOn(line) === "to buy" ? null : true;
		const set = { spec: line.id, length_mm: read.mm, count: 1, from_cut };
		const fault = await keepOrSay([{ table: "leftover", key: newKey(), set }]);
		if (fault) return setSaid({ words: fault, fault: true });
		setSaid({ words: `${lengthText(read.mm)} kept on this phone.`, fault: false });
		setText("");
		setRound(round + 1);
	};
	return (
		<form
			onSubmit={(event) => {
				event.preventDefault();
				void keep();
			}}
		>
			{lines.length > 1 && (
				<SelectField label="A length of" value={of ?? ""} onChange={setOf}>
					<option value="">Choose the hose or cable</option>
					{lines.map((one) => (
						<option key={one.id} value={one.id}>
							{shortSpec(one)}
						</option>
					))}
				</SelectField>
			)}
			<Typed key={round} text={text} onType={setText} />
			<div class="buttons">
				<button type="submit" class="button">
					Keep this length
				</button>
			</div>
			{said && (
				<Notice sort={said.fault ? "asks" : "done"} role={said.fault ? "alert" : "status"}>
					{said.words}
				</Notice>
			)}
		</form>
	);
}

function Typed({ text, onType }: { text: string; onType: (text: string) => void }) {
	return (
		<label class="field">
			<span class="field-label">How long</span>
			<input
				class="input"
				type="text"
				autoComplete="off"
				value={text}
				onInput={(event) => onType(event.currentTarget.value.trim())}
			/>
			<span class="field-hint">With its unit: 1.1 m, 640 mm, 4 ft.</span>
		</label>
	);
}

/** `3 lengths lie here`. */
export function leftoverWords(): string {
	const all = [...boat.table("leftover").value.values()];
	const pieces = all.reduce((sum, left) => sum + (left.count ?? 1), 0);
	return pieces === 0 ? "Leftover lengths" : `Leftover lengths: ${count(pieces, "piece")}`;
}
