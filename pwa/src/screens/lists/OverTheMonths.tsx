/** Waste over the months: how near the limits are, by when it must go, what came up and went. */
import type { Limit, MonthLine, Quantities, Spread, Standing } from "../../domain/contract.ts";
import { lists } from "../../sync/lists.ts";
import { Meter } from "../../ui/Meter.tsx";
import { Notice } from "../../ui/Notice.tsx";
import { State } from "../../ui/State.tsx";
import { day, kilograms } from "../../ui/words.ts";
import { PATHS } from "../paths.ts";
import { ListFrame } from "./ListFrame.tsx";
import { Mass, rangeWords } from "./Mass.tsx";
import { MonthBars } from "./MonthBars.tsx";
import { NoListYet, Totals } from "./Totals.tsx";

export function OverTheMonths() {
	const aged = lists.value.quantities;
	return (
		<ListFrame title="Over the months" name="quantities" aged={aged}>
			<div class="buttons">
				<a class="button button-wide" href={PATHS.waste}>
					Back to the waste list
				</a>
			</div>
			{aged ? (
				<AllOf list={aged.list} />
			) : (
				<NoListYet title="No amounts on this phone yet">
					The server adds them up by month.
				</NoListYet>
			)}
		</ListFrame>
	);
}

function AllOf({ list }: { list: Quantities }) {
	return (
		<>
			<Totals
				of={{ "ashore now": list.on_site, gone: list.gone, "still aboard": list.aboard }}
				range={rangeWords}
			/>
			<p class="part-note">
				Rules of {list.rule_set_name}, {list.holder}. {list.no_limits}
			</p>
			{list.undated.likely > 0 && (
				<Notice sort="asks">
					{`${withRange(list.undated)} came out on no known day; ${kilograms(list.undated_counted.likely)} of it is counted in the present period. Enter the days on the items.`}
				</Notice>
			)}
			{list.gone_undated.likely > 0 && (
				<Notice sort="asks">
					{`${withRange(list.gone_undated)} went on no known day. Enter the day of the handover.`}
				</Notice>
			)}
			<Limits list={list} />
			<MustGo rows={list.standing} />
			<Months rows={list.months} />
			<Streams list={list} />
			<section class="part">
				<h2>What these rules say</h2>
				{list.sayings.map((text) => (
					<p class="part-note small" key={text}>
						{text}
					</p>
				))}
				<p class="standing-words">Local rules and licensed firms come first.</p>
			</section>
		</>
	);
}

function Limits({ list }: { list: Quantities }) {
	if (list.limits.length === 0) return null;
	const high = list.step_high === list.step ? "" : `; by the high value ${list.step_high}`;
	return (
		<section class="part">
			<h2>Limits</h2>
			<p>
				{list.ladder} now: <b>{list.step}</b>
				{high}.
			</p>
			<p class="part-note">
				{list.kg_a_month.toFixed(1)} kg a month are counted, from the last 90 days.
			</p>
			{list.limits.map((limit) => (
				<OneLimit key={`${limit.name} ${limit.limit_kg}`} limit={limit} />
			))}
		</section>
	);
}

function OneLimit({ limit }: { limit: Limit }) {
	const said = warned(limit);
	const name = `${limit.name}, limit ${kilograms(limit.limit_kg)}`;
	return (
		<div class="row-under">
			<h3>{name}</h3>
			<Meter share={limit.share} label={name} danger={limit.warn === "over"}>
				{`${withRange(limit.now)}, ${Math.round(100 * limit.share)} %`}
			</Meter>
			{said && <State is={limit.warn === "over" ? "danger" : "waits"}>{said}</State>}
			<p class="small">
				{limit.meaning} {limit.sources.join("; ")}
			</p>
		</div>
	);
}

const WARNINGS = {
	over: "Over the limit: call a licensed firm",
	"may be over": "May be over, the high value is: weigh what is here",
	near: "Near: 80 % or more",
	"": "",
} as const;

function warned({ warn, day: likely, day_high }: Limit): string {
	const word = WARNINGS[warn];
	if (likely && warn !== "over") {
		return `${word ? `${word}. ` : ""}Reached about ${dayWords(likely)} at the present rate`;
	}
	if (day_high && !warn) return `By the high value reached about ${dayWords(day_high)}`;
	return word;
}

function MustGo({ rows }: { rows: readonly Standing[] }) {
	if (rows.length === 0) return null;
	return (
		<section class="part">
			<h2>Must be gone by</h2>
			<p class="part-note">Counted from the first day that is known of each.</p>
			<div class="rows">
				{rows.map((row) => (
					<div class="row" key={`${row.table}/${row.key}`}>
						<span class="row-main">
							<span class="row-title">{row.name}</span>
							<span class="row-under">
								{row.since ? `Since ${dayWords(row.since)}` : "The day it began is not known"}
							</span>
							{row.warn && (
								<State is={row.warn === "over" ? "danger" : "waits"}>{hurry(row)}</State>
							)}
						</span>
						{row.due && (
							<span class="mass">
								<span class="strong">{dayWords(row.due)}</span>
								<small>{row.left} days left</small>
							</span>
						)}
					</div>
				))}
			</div>
		</section>
	);
}

function hurry(row: Standing): string {
	if (row.left === null) return "Enter a day; it may be over";
	return row.warn === "over" ? "Overdue: call a licensed firm" : "Soon: order a collection";
}

function Months({ rows }: { rows: readonly MonthLine[] }) {
	return (
		<section class="part">
			<h2>By month</h2>
			{rows.length === 0 && <p class="part-note">Nothing has come up on a known day yet.</p>}
			<MonthBars months={rows} />
			<div class="rows">
				{rows.map((row) => (
					<div class="row" key={row.period}>
						<span class="row-main">
							<span class="row-title">{monthWords(row.period)}</span>
							<span class="row-under">
								hazardous {withRange(row.hazardous)}
								{row.counted.likely !== row.hazardous.likely &&
									`; counted ${withRange(row.counted)}`}
							</span>
							{row.gone.likely > 0 && <span class="row-under">gone {withRange(row.gone)}</span>}
							{row.step && <span class="row-under">{row.step}</span>}
						</span>
						<Mass of={row.came_up} />
					</div>
				))}
			</div>
		</section>
	);
}

function Streams({ list }: { list: Quantities }) {
	return (
		<section class="part">
			<h2>By stream, ashore now</h2>
			{list.streams.length === 0 && <p class="part-note">Nothing is waste so far.</p>}
			<div class="rows">
				{list.streams.map((row) => (
					<div class="row" key={`${row.id} ${row.code}`}>
						<span class="row-main">
							<span class="row-title">{row.name}</span>
							<span class="row-under">{row.code}</span>
							{row.hazardous && <State is="danger">hazardous</State>}
							{row.left_out && <span class="row-under">Not counted: {row.left_out}</span>}
							{row.gone.likely > 0 && <span class="row-under">gone {withRange(row.gone)}</span>}
						</span>
						<Mass of={row.on_site} />
					</div>
				))}
			</div>
		</section>
	);
}

function withRange(of: Spread): string {
	const between = rangeWords(of);
	return between.includes(" to ") ? `${kilograms(of.likely)} (${between})` : kilograms(of.likely);
}

function dayWords(iso: string): string {
	return day(new Date(`${iso}T12:00:00`));
}

export function monthWords(period: string): string {
	const first = new Date(`${period}-01T12:00:00`);
	return first.toLocaleDateString("en-GB", { month: "long", year: "numeric" });
}
