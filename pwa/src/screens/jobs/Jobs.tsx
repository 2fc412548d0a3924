/** Work that is no item: what is open and what is done, and the hours that were put in. */
import type { Job } from "../../domain/contract.ts";
import { jobName } from "../../domain/steps.ts";
import { pathOf } from "../../domain/tree.ts";
import { boat } from "../../storage/boat.ts";
import { rules } from "../../storage/rules.ts";
import { Screen } from "../../ui/Screen.tsx";
import { State } from "../../ui/State.tsx";
import { count, day } from "../../ui/words.ts";
import { PATHS } from "../paths.ts";
import { waits } from "../work/open.ts";
import { HOURS_AT, HoursPart } from "./HoursPart.tsx";

export function Jobs() {
	const jobs = [...boat.table("job").value.values()];
	const open = jobs.filter(({ done_at }) => !done_at).sort(safeFirst);
	const done = jobs
		.filter(({ done_at }) => done_at)
		.sort((a, b) => (b.done_at ?? "").localeCompare(a.done_at ?? ""));
	return (
		<Screen title="Jobs and hours" backTo={PATHS.work}>
			<div class="buttons">
				<a class="button button-main button-wide button-hot" href={PATHS.newJob()}>
					Write a job down
				</a>
				<button type="button" class="button button-wide" onClick={toHours}>
					Write hours down
				</button>
			</div>
			<section class="part">
				<h2>Open</h2>
				<div class="rows">
					{open.length === 0 && <p class="row pencil">No job is open.</p>}
					{open.map((job) => (
						<JobRow key={job.key} job={job} />
					))}
				</div>
			</section>
			<HoursPart />
			{done.length > 0 && (
				<details>
					<summary>
						<span class="row-main">
							<span class="row-title">{count(done.length, "job")} done</span>
						</span>
					</summary>
					<div class="inset rows">
						{done.map((job) => (
							<JobRow key={job.key} job={job} />
						))}
					</div>
				</details>
			)}
		</Screen>
	);
}

/** A sitting ends with its hours, and the open jobs before them may be many. */
function toHours(): void {
	document.getElementById(HOURS_AT)?.scrollIntoView();
}

/** Making safe stands above all other work. */
function safeFirst(a: Job, b: Job): number {
	const rank = (job: Job): number => (job.task === "make safe" ? 0 : 1);
	return rank(a) - rank(b) || (a.name ?? "").localeCompare(b.name ?? "");
}

function JobRow({ job }: { job: Job }) {
	const place = pathOf(boat.table("compartment").value, job.compartment).join(" › ");
	const waiting = waits()?.of(`job/${job.key}`) ?? [];
	return (
		<a class="row" href={PATHS.job(job.key)}>
			<span class="row-main">
				<span class="row-title">{jobName(job, rules.value)}</span>
				<span class="row-under">
					{[place, job.hours ? `${job.hours} h` : ""].filter(Boolean).join(" · ")}
				</span>
				{job.done_at ? (
					<State is="out">{`done ${day(new Date(job.done_at))}`}</State>
				) : waiting.length > 0 ? (
					<State is="waits">{waiting.join("; ")}</State>
				) : (
					<State is="plain">can be begun now</State>
				)}
			</span>
		</a>
	);
}
