/** Hours put in: a sitting in two taps, or typed; they make the pace that forecasts go by. */
import { useId, useState } from "preact/hooks";
import type { Work } from "../../domain/contract.ts";
import { jobName } from "../../domain/steps.ts";
import { flatten, pathOf } from "../../domain/tree.ts";
import { boat, newKey } from "../../storage/boat.ts";
import { rules } from "../../storage/rules.ts";
import { Choice } from "../../ui/Choice.tsx";
import { SelectField } from "../../ui/Field.tsx";
import { Growing } from "../../ui/Growing.tsx";
import { Notice } from "../../ui/Notice.tsx";
import { count, day } from "../../ui/words.ts";
import { keepOrSay } from "../common/keeping.ts";

const HOURS = ["2", "4", "8"] as const;
const PEOPLE = ["1", "2", "3"] as const;
const SHOWN = 8;
/** The element to come to, lower on a screen with much above it. */
export const HOURS_AT = "hours-put-in";

/** Why this many hours can't have been put in on one day; null if they can. */
export function hoursFault(
	hours: number,
	people: number,
	on = "",
	today = localDay(new Date()),
): string | null {
	if (on > today)
		return "That day is still to come. Hours are written down when they are done. What you typed is still here.";
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
	const [about, setAbout] = useState<About>({ on: "", job: null, compartment: null });
	const [said, setSaid] = useState<{ words: string; fault: boolean } | null>(null);
	const rows = [...boat.table("work").value.values()]
		.filter(({ on }) => on)
		.sort((a, b) => (b.on ?? "").localeCompare(a.on ?? ""));
	const log = async (): Promise<void> => {
		const fault = hoursFault(Number(hours.replace(",", ".")), Number(people), about.on);
		if (fault) {
			setSaid({ words: fault, fault: true });
			return;
		}
		const set = {
			on: about.on || new Date().toISOString(),
			job: about.job,
			compartment: about.compartment,
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
		<section class="part" id={HOURS_AT}>
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
			<AboutThem about={about} onChange={setAbout} />
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
			{rows.length > SHOWN && <Earlier rows={rows.slice(SHOWN)} />}
		</section>
	);
}

function Earlier({ rows }: { rows: readonly Work[] }) {
	return (
		<details>
			<summary>
				<span class="row-main">{rows.length} earlier</span>
			</summary>
			<div class="rows">
				<Growing of={rows}>{(row) => <Line key={row.key} row={row} />}</Growing>
			</div>
		</details>
	);
}

interface About {
	/** A calendar day; empty for today. */
	readonly on: string;
	readonly job: string | null;
	readonly compartment: string | null;
}

function AboutThem({ about, onChange }: { about: About; onChange: (next: About) => void }) {
	const id = useId();
	const compartments = boat.table("compartment").value;
	return (
		<details>
			<summary>
				<span class="row-main">Another day, a job, a place</span>
			</summary>
			<div class="inset">
				<div class="field">
					<label class="field-label" for={id}>
						Day
					</label>
					<input
						id={id}
						class="input"
						type="date"
						value={about.on}
						onInput={(event) => onChange({ ...about, on: event.currentTarget.value })}
					/>
				</div>
				<SelectField
					label="Job"
					value={about.job ?? ""}
					onChange={(job) => onChange({ ...about, job: job || null })}
				>
					<option value="">No job in particular</option>
					{[...boat.table("job").value.values()].map((job) => (
						<option key={job.key} value={job.key}>
							{jobName(job, rules.value)}
						</option>
					))}
				</SelectField>
				<SelectField
					label="Place"
					value={about.compartment ?? ""}
					onChange={(key) => onChange({ ...about, compartment: key || null })}
				>
					<option value="">All over the boat</option>
					{flatten(compartments).map(({ node }) => (
						<option key={node.key} value={node.key}>
							{pathOf(compartments, node.key).join(", ")}
						</option>
					))}
				</SelectField>
			</div>
		</details>
	);
}

/** The calendar day where the phone is. */
function localDay(at: Date): string {
	const two = (part: number): string => String(part).padStart(2, "0");
	return `${at.getFullYear()}-${two(at.getMonth() + 1)}-${two(at.getDate())}`;
}

function sat(hours: number, people: number): string {
	return `${hours} h, ${count(people, "person", "people")}`;
}

function forWhat({ job, compartment }: Work): string {
	const done = job === null ? undefined : boat.table("job").value.get(job);
	const place = pathOf(boat.table("compartment").value, compartment).at(-1) ?? "";
	const name = done ? jobName(done, rules.value) : "a job that is not on this phone";
	return [job === null ? "" : name, place].filter(Boolean).join(", ");
}

function Line({ row }: { row: Work }) {
	return (
		<div class="row">
			<span class="row-main">
				<span class="row-title">{sat(row.hours ?? 0, row.people ?? 1)}</span>
				<span class="row-under">
					{[row.on ? day(new Date(row.on)) : "", forWhat(row), row.note ?? ""]
						.filter(Boolean)
						.join(" · ")}
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
