/** One job: what, where, how much of it, what it is like, and whether it is done. */
import { useState } from "preact/hooks";
import type { Job } from "../../domain/contract.ts";
import { jobName } from "../../domain/steps.ts";
import { pathOf } from "../../domain/tree.ts";
import { boat, newKey } from "../../storage/boat.ts";
import { rules } from "../../storage/rules.ts";
import { Choice } from "../../ui/Choice.tsx";
import { SelectField, TextField } from "../../ui/Field.tsx";
import { Notice } from "../../ui/Notice.tsx";
import { address, go } from "../../ui/router.ts";
import { Screen } from "../../ui/Screen.tsx";
import { day, sentence } from "../../ui/words.ts";
import { BinButton } from "../common/BinButton.tsx";
import { CompartmentSheet } from "../common/CompartmentSheet.tsx";
import { keepOrSay } from "../common/keeping.ts";
import { OrdersPart } from "../orders/OrdersPart.tsx";
import { PATHS } from "../paths.ts";
import { NumberField } from "../tank/NumberField.tsx";
import { waits } from "../work/open.ts";

type SetJob = (values: Partial<Omit<Job, "key">>) => void;

const TASKS = [
	{ value: "make safe", label: "Make safe" },
	{ value: "scrape", label: "Scrape" },
	{ value: "grind", label: "Grind" },
	{ value: "clean", label: "Clean" },
	{ value: "other", label: "Other" },
] as const;

/** A new job: kept as soon as its sort is said, so that nothing typed can be lost. */
export function NewJob() {
	const [said, setSaid] = useState<string | null>(null);
	const system = address.value.query.get("safe");
	const row = rules.value?.systems.find(({ id }) => id === system);
	const begin = async (set: Partial<Omit<Job, "key">>): Promise<void> => {
		const key = newKey();
		const why = await keepOrSay([{ table: "job", key, set }]);
		if (why) setSaid(why);
		else go(PATHS.job(key), { replace: true });
	};
	return (
		<Screen title="Write a job down" backTo={PATHS.jobs}>
			{row?.strict && (
				<Notice sort="danger" word="Danger">
					{sentence(row.strict)}. Local rules and licensed trades come first.
				</Notice>
			)}
			{row ? (
				<>
					<p>{row.make_safe}.</p>
					<button
						type="button"
						class="button button-main button-wide button-hot part-tight"
						onClick={() => void begin({ task: "make safe", system: row.id, name: row.make_safe })}
					>
						Write it down
					</button>
				</>
			) : (
				<div class="buttons">
					{TASKS.map(({ value, label }) => (
						<button
							key={value}
							type="button"
							class="button button-wide button-hot"
							onClick={() => void begin({ task: value })}
						>
							{label}
						</button>
					))}
				</div>
			)}
			{said && (
				<Notice sort="asks" role="alert">
					{said}
				</Notice>
			)}
		</Screen>
	);
}

export function JobScreen({ jobKey }: { jobKey: string }) {
	const job = boat.table("job").value.get(jobKey);
	const [said, setSaid] = useState<string | null>(null);
	if (!job)
		return (
			<Screen title="This job is not on this phone" backTo={PATHS.jobs}>
				<p>It may be in the bin, or another phone has not sent it yet.</p>
			</Screen>
		);
	const set: SetJob = (values) => {
		void keepOrSay([{ table: "job", key: job.key, set: values }]).then(setSaid);
	};
	return (
		<Screen title={jobName(job, rules.value)} backTo={PATHS.jobs}>
			<Cautions job={job} />
			<Done job={job} set={set} />
			{said && (
				<Notice sort="asks" role="alert">
					{said}
				</Notice>
			)}
			<section class="part">
				<h2>What it is</h2>
				<TextField
					label="In words"
					value={job.name ?? ""}
					longest={200}
					onKeep={(text) => void set({ name: text || null })}
				/>
				<Choice
					name="job-task"
					legend="Sort"
					wrap
					options={TASKS}
					value={job.task}
					onChange={(task) => set({ task })}
				/>
				<SelectField
					label="System"
					value={job.system ?? ""}
					onChange={(system) => set({ system: system || null })}
				>
					<option value="">None</option>
					{rules.value?.systems.map(({ id, name }) => (
						<option key={id} value={id}>
							{name}
						</option>
					))}
				</SelectField>
				<Where job={job} set={set} />
			</section>
			<HowMuch job={job} set={set} />
			<OrdersPart target={`job/${job.key}`} />
			<BinButton table="job" of={job.key} after={PATHS.jobs} />
		</Screen>
	);
}

function Cautions({ job }: { job: Job }) {
	const row = rules.value?.systems.find(({ id }) => id === job.system);
	const sparks = job.sparks ?? rules.value?.spark_tasks.includes(job.task ?? "");
	const waiting = waits()?.of(`job/${job.key}`) ?? [];
	return (
		<>
			{job.task === "make safe" && row?.strict && !job.done_at && (
				<Notice sort="danger" word="Danger">
					{sentence(row.strict)}. Nothing of it is ready before this is done. Local rules and
					licensed trades come first.
				</Notice>
			)}
			{sparks && (
				<Notice sort="danger" word="Sparks">
					Nothing of fuel or gas may be open, in this compartment or beside it.
				</Notice>
			)}
			{job.vapour && (
				<Notice sort="danger" word="Vapour">
					No sparks, no flame; air the space before and during the work.
				</Notice>
			)}
			{waiting.length > 0 && !job.done_at && <Notice sort="asks">{waiting.join("; ")}</Notice>}
		</>
	);
}

function Done({ job, set }: { job: Job; set: SetJob }) {
	if (job.done_at)
		return (
			<div class="buttons">
				<p>Done {day(new Date(job.done_at))}.</p>
				<button type="button" class="button" onClick={() => set({ done_at: null })}>
					Not done after all
				</button>
			</div>
		);
	return (
		<button
			type="button"
			class="button button-main button-wide button-hot part-tight"
			onClick={() => set({ done_at: new Date().toISOString() })}
		>
			Done today
		</button>
	);
}

function Where({ job, set }: { job: Job; set: SetJob }) {
	const [choosing, setChoosing] = useState(false);
	const path = pathOf(boat.table("compartment").value, job.compartment);
	return (
		<div class="field">
			<span class="field-label" id="where-the-job-is">
				Where
			</span>
			<button
				type="button"
				class="input choose"
				aria-describedby="where-the-job-is"
				onClick={() => setChoosing(true)}
			>
				<span>{path.join(", ") || "Nowhere in particular"}</span>
				<span class="choose-change">Change</span>
			</button>
			{choosing && (
				<CompartmentSheet
					picked={job.compartment}
					onPick={(compartment) => {
						setChoosing(false);
						set({ compartment });
					}}
					onClose={() => setChoosing(false)}
				/>
			)}
		</div>
	);
}

const YES_NO = [
	{ value: "yes", label: "Yes" },
	{ value: "no", label: "No" },
] as const;

const TOILS = [
	{ value: "light", label: "Light" },
	{ value: "steady", label: "Steady" },
	{ value: "hard", label: "Hard" },
] as const;

function HowMuch({ job, set }: { job: Job; set: SetJob }) {
	return (
		<section class="part">
			<h2>How much, and what it is like</h2>
			<div class="pair-of-fields">
				<NumberField
					label="Area, m²"
					value={job.area_m2}
					low={0}
					high={10_000}
					onKeep={(area_m2) => set({ area_m2 })}
				/>
				<NumberField
					label="Length, m"
					value={job.length_m}
					low={0}
					high={200}
					onKeep={(length_m) => set({ length_m })}
				/>
			</div>
			<div class="pair-of-fields">
				<NumberField
					label="Hours it will take"
					value={job.hours}
					low={0}
					high={1_000}
					onKeep={(hours) => set({ hours })}
				/>
				<NumberField
					label="People it needs"
					value={job.people}
					low={1}
					high={50}
					onKeep={(people) => set({ people: people === null ? null : Math.round(people) })}
				/>
			</div>
			<p class="part-note">Left empty, usual hours are taken from its sort and area.</p>
			<Choice
				name="job-toil"
				legend="How hard it is"
				options={TOILS}
				value={job.toil}
				clears
				onChange={(toil) => set({ toil })}
			/>
			<YesNo name="dirty" label="Dirty" value={job.dirty} onChange={(dirty) => set({ dirty })} />
			<YesNo
				name="sparks"
				label="Makes heat or sparks"
				value={job.sparks}
				onChange={(sparks) => set({ sparks })}
			/>
			<YesNo
				name="vapour"
				label="Fuel or gas is open while it is done"
				value={job.vapour}
				onChange={(vapour) => set({ vapour })}
			/>
		</section>
	);
}

interface YesNoProps {
	name: string;
	label: string;
	value: boolean | null;
	onChange: (value: boolean | null) => void;
}

function YesNo({ name, label, value, onChange }: YesNoProps) {
	return (
		<Choice
			name={`job-${name}`}
			legend={label}
			options={YES_NO}
			value={value === null ? null : value ? "yes" : "no"}
			clears
			onChange={(next) => onChange(next === null ? null : next === "yes")}
		/>
	);
}
