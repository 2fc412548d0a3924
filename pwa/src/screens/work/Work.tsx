/** The work ahead: how much, when it ends, what can be begun now and what holds the rest up. */
import type { HoldUp, WorkAhead, WorkStep } from "../../domain/contract.ts";
import { shown } from "../../domain/tag.ts";
import { boat } from "../../storage/boat.ts";
import { lists } from "../../sync/lists.ts";
import { Growing } from "../../ui/Growing.tsx";
import { State } from "../../ui/State.tsx";
import { Code } from "../../ui/Tag.tsx";
import { count, day } from "../../ui/words.ts";
import { ListFrame } from "../lists/ListFrame.tsx";
import { PATHS } from "../paths.ts";
import { BurnDown } from "./BurnDown.tsx";
import { Offers } from "./Offers.tsx";
import { isOpen } from "./open.ts";
import "./work.css";

export function Work() {
	const aged = lists.value.work;
	return (
		<ListFrame title="Work ahead" name="work" aged={aged}>
			<div class="buttons">
				<a class="button button-main button-wide button-hot" href={PATHS.sitting}>
					Plan a sitting
				</a>
				<a class="button" href={PATHS.jobs}>
					Jobs and hours
				</a>
				<a class="button" href={PATHS.orders}>
					Orders of work
				</a>
				<a class="button" href={PATHS.walkRound}>
					Walk round
				</a>
			</div>
			{aged ? <WorkOf work={aged.list} /> : <p class="part-note">It comes with the next sync.</p>}
			<Offers proposals={aged?.list.proposals ?? []} />
		</ListFrame>
	);
}

function WorkOf({ work }: { work: WorkAhead }) {
	const { forecast } = work;
	if (work.steps === 0) return <NothingToDo />;
	return (
		<>
			<dl class="totals">
				<div>
					<dt>
						person hours left
						<br />
						{Math.round(forecast.hours_low)} to {Math.round(forecast.hours_high)}
					</dt>
					<dd>{Math.round(forecast.hours_likely)}</dd>
				</div>
				<div>
					<dt>steps left</dt>
					<dd>{work.steps}</dd>
				</div>
				<div>
					<dt>steps can be begun now</dt>
					<dd>{work.ready.length}</dd>
				</div>
			</dl>
			<p class="part-tight">{endWords(work)}</p>
			<p class="part-note">{paceWords(work)}</p>
			<BurnDown work={work} />
			<Rings rings={work.rings} />
			<Ready steps={work.ready} />
			<HoldUps rows={work.hold_ups} />
			{work.cautions.map((caution) => (
				<p key={caution} class="part-note">
					{caution}
				</p>
			))}
		</>
	);
}

/** Nothing listed yet looks the same to the server as all done. */
function NothingToDo() {
	if (boat.table("item").value.size > 0)
		return (
			<div class="empty">
				<h2>Nothing is left to take out or to do</h2>
			</div>
		);
	return (
		<div class="empty">
			<h2>Nothing is listed yet</h2>
			<p>Walk round the boat and list what is aboard, or write a job.</p>
		</div>
	);
}

function endWords({ forecast, crews }: WorkAhead): string {
	const two = crews.find(({ people }) => people === 2);
	const by = two?.hours
		? ` Two people need about ${Math.round(two.hours)} hours by the clock.`
		: "";
	if (!forecast.likely) return `At this pace it does not end within five years.${by}`;
	const late = forecast.late ? dayOf(forecast.late) : "more than five years on";
	const early = forecast.early ? dayOf(forecast.early) : late;
	return `It ends about ${dayOf(forecast.likely)}; most likely between ${early} and ${late}.${by}`;
}

function paceWords({ pace, forecast }: WorkAhead): string {
	const own = forecast.from_own_pace
		? `Your pace, from ${count(pace.sittings, "logged sitting")}: ${pace.share.toFixed(2)} times the estimates.`
		: "No hours are logged yet, so the pace is an estimate.";
	const weeks = forecast.from_own_weeks ? "as in your last weeks" : "an estimate";
	return `${own} ${Math.round(pace.week_hours)} person hours a week, ${weeks}.`;
}

export function dayOf(text: string): string {
	return day(new Date(`${text}T12:00:00`));
}

function Rings({ rings }: { rings: WorkAhead["rings"] }) {
	if (rings.length === 0) return null;
	return (
		<section class="part">
			<h2>Orders in a ring</h2>
			<p class="part-note">Nothing in a ring can ever be begun. Take one of its orders back.</p>
			<ul class="rows">
				{rings.map((ring) => (
					<li key={ring.join()} class="row">
						{[...ring, ring[0]].join(" before ")}
					</li>
				))}
			</ul>
		</section>
	);
}

function Ready({ steps }: { steps: readonly WorkStep[] }) {
	const here = steps.filter(({ target }) => target.startsWith("safe/") || isOpen(target));
	return (
		<section class="part">
			<h2>Can be begun now</h2>
			<p class="part-note">What opens most comes first.</p>
			<div class="rows">
				{here.length === 0 && <p class="row pencil">Nothing: see below what holds things up.</p>}
				<Growing of={here}>{(step) => <ReadyRow key={step.target} step={step} />}</Growing>
			</div>
		</section>
	);
}

function ReadyRow({ step }: { step: WorkStep }) {
	const hours = step.people > 1 ? `${step.people} people, ${inHours(step)}` : inHours(step);
	return (
		<a class="row" href={hrefOf(step.target)}>
			<span class="row-main">
				<span class="row-title">{step.name}</span>
				<span class="row-under">
					{[step.path.join(" › "), hours, step.toil, step.dirty ? "dirty" : ""]
						.filter(Boolean)
						.join(" · ")}
				</span>
				{step.opens.length > 0 && <span class="row-under">opens {listed(step.opens)}</span>}
				{step.sparks && <State is="danger">sparks: nothing of fuel or gas open</State>}
				{step.vapour && <State is="danger">fuel or gas open: no sparks, air it</State>}
				{step.tags[0] && <Code>{shown(step.tags[0])}</Code>}
			</span>
		</a>
	);
}

function inHours({ hours }: { hours: number }): string {
	return hours < 1 ? `${Math.max(5, Math.round(hours * 12) * 5)} min` : `${hours.toFixed(1)} h`;
}

function listed(names: readonly string[]): string {
	const more = names.length - 3;
	return more > 0 ? `${names.slice(0, 3).join(", ")} and ${more} more` : names.join(", ");
}

/** Where a step is shown; a make-safe step that nobody wrote down begins as a new job. */
export function hrefOf(target: string): string {
	const [table, key = ""] = target.split("/");
	if (table === "item") return PATHS.item(key);
	if (table === "safe") return PATHS.newJob(`safe=${key}`);
	return PATHS.job(key);
}

function HoldUps({ rows }: { rows: readonly HoldUp[] }) {
	const here = rows.filter(({ target }) => target.startsWith("safe/") || isOpen(target));
	if (here.length === 0) return null;
	return (
		<section class="part">
			<h2>Holds the rest up</h2>
			<div class="rows">
				<Growing of={here}>
					{(row) => (
						<a key={row.target} class="row" href={hrefOf(row.target)}>
							<span class="row-main">
								<span class="row-title">{row.name}</span>
								{row.ready ? (
									<State is="plain">can be begun now</State>
								) : (
									<State is="waits">{row.waits_for.join("; ")}</State>
								)}
							</span>
							<span class="group-left">
								<b>{row.holds}</b>
								behind it
							</span>
						</a>
					)}
				</Growing>
			</div>
		</section>
	);
}
