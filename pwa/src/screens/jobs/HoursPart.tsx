/** Hours put in: a sitting in two taps, or typed; they make the pace that forecasts go by. */
import { useState } from "preact/hooks";
import type { Work } from "../../domain/contract.ts";
import { boat, newKey } from "../../storage/boat.ts";
import { Choice } from "../../ui/Choice.tsx";
import { Notice } from "../../ui/Notice.tsx";
import { count, day } from "../../ui/words.ts";
import { keepOrSay } from "../common/keeping.ts";

const HOURS = ["2", "4", "8"] as const;
const PEOPLE = ["1", "2", "3"] as const;
const SHOWN = 8;

/** Why this many hours can't have been put in on one day; null if they can. */
export function hoursFault(hours: number, people: number): string | null {
	if (!Number.isFinite(hours) || hours <= 0)
		return "Hours are a number above 0, like 3.5. What you typed is still here.";
	if (hours > 24) return "A day has 24 hours. Write one entry a day. What you typed is still here.";
	if (!Number.isInteger(people) || people < 1 || people > 50)
		return "People are a whole number from 1 to 50. What you typed is still here.";
	return null;
}

export function HoursPart() {
	const [hours, setHours] = useState("4");
	const [people, setPeople] = useState("2");
	const [said, setSaid] = useState<{ words: string; fault: boolean } | null>(null);
	const rows = [...boat.table("work").value.values()]
		.filter(({ on }) => on)
		.sort((a, b) => (b.on ?? "").localeCompare(a.on ?? ""));
	const log = async (): Promise<void> => {
		const fault = hoursFault(Number(hours.replace(",", ".")), Number(people));
		if (fault) {
			setSaid({ words: fault, fault: true });
			return;
		}
		const set = {
			on: new Date().toISOString(),
			hours: Number(hours.replace(",", ".")),
			people: Number(people),
		};
		const why = await keepOrSay([{ table: "work", key: newKey(), set }]);
		setSaid(
			why
				? { words: why, fault: true }
				: { words: `${sat(set.hours, set.people)}, kept on this phone.`, fault: false },
		);
	};
	return (
		<section class="part">
			<h2>Hours put in</h2>
			<Choice
				name="hours-quick"
				legend="Hours today"
				options={HOURS.map((value) => ({ value, label: value }))}
				value={HOURS.find((value) => value === hours) ?? null}
				onChange={(value) => setHours(value ?? hours)}
			/>
			<label class="field">
				<span class="field-label">Or another number</span>
				<input
					class="input"
					inputMode="decimal"
					autoComplete="off"
					value={hours}
					onInput={(event) => setHours(event.currentTarget.value)}
				/>
			</label>
			<Choice
				name="hours-people"
				legend="People"
				options={PEOPLE.map((value) => ({ value, label: value }))}
				value={PEOPLE.find((value) => value === people) ?? null}
				onChange={(value) => setPeople(value ?? people)}
			/>
			<button type="button" class="button button-wide part-tight" onClick={() => void log()}>
				Keep these hours
			</button>
			{said && (
				<Notice sort={said.fault ? "asks" : "done"} role={said.fault ? "alert" : "status"}>
					{said.words}
				</Notice>
			)}
			<div class="rows part-tight">
				{rows.slice(0, SHOWN).map((row) => (
					<Line key={row.key} row={row} />
				))}
			</div>
			{rows.length > SHOWN && <p class="part-note">{rows.length - SHOWN} earlier ones.</p>}
		</section>
	);
}

function sat(hours: number, people: number): string {
	return `${hours} h, ${count(people, "person", "people")}`;
}

function Line({ row }: { row: Work }) {
	return (
		<div class="row">
			<span class="row-main">
				<span class="row-title">{sat(row.hours ?? 0, row.people ?? 1)}</span>
				<span class="row-under">
					{[row.on ? day(new Date(row.on)) : "", row.note ?? ""].filter(Boolean).join(" · ")}
				</span>
			</span>
			<button
				type="button"
				class="button button-quiet"
				aria-label={`Into the bin: ${sat(row.hours ?? 0, row.people ?? 1)}`}
				onClick={() => void keepOrSay([{ table: "work", key: row.key, set: { binned: true } }])}
			>
				Bin
			</button>
		</div>
	);
}
