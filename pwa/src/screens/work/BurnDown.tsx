/** Person hours left week by week with the forecast as a band, and hours put in; drawn as SVG. */
import type { WorkAhead } from "../../domain/contract.ts";

const WIDE = 358;
const HIGH = 202;
const LEFT = 34;
const FOOT = 22;
/** Room for what the axis counts, above its highest figure. */
const TOP = 30;
const BARS = 110;

export function BurnDown({ work }: { work: WorkAhead }) {
	const done = work.progress;
	const ahead = work.forecast.weeks;
	if (done.length < 2 && ahead.length === 0) return null;
	return (
		<figure class="drawing-part">
			<LeftByWeek work={work} />
			{done.some(({ hours_put_in }) => hours_put_in > 0) && <PutIn work={work} />}
			<figcaption class="part-note">{inWords(work)}</figcaption>
		</figure>
	);
}

/** The chart in words, also for those who don't see it. */
function inWords({ progress, forecast }: WorkAhead): string {
	const first = progress[0];
	const last = progress.at(-1);
	const past =
		first && last
			? `By the estimates ${Math.round(first.hours_left)} person hours were left after the first week, and ${Math.round(last.hours_left)} are now, in ${last.pieces_left} pieces and the jobs${atYourPace(forecast)}.`
			: "";
	const band = forecast.weeks.length > 0 ? " Eight of ten trials lie in the band." : "";
	return past + band;
}

/** Why the sum above the chart is another one. */
function atYourPace({ from_own_pace, hours_likely }: WorkAhead["forecast"]): string {
	return from_own_pace
		? `; at your pace, and with what may take longer, ${Math.round(hours_likely)}`
		: "";
}

function LeftByWeek({ work }: { work: WorkAhead }) {
	const done = work.progress;
	const ahead = work.forecast.weeks;
	const weeks = weeksOf(work);
	const top = topOf(
		Math.max(...done.map((row) => row.hours_left), ...ahead.map((row) => row.high), 1),
	);
	const x = (at: number): number => LEFT + ((WIDE - LEFT - 8) * at) / Math.max(1, weeks.length - 1);
	const y = (hours: number): number => HIGH - FOOT - ((HIGH - FOOT - TOP) * hours) / top;
	const start = Math.max(0, done.length - 1);
	const now = done.at(-1)?.hours_left ?? ahead[0]?.high ?? 0;
	const band = [
		{ at: start, low: now, likely: now, high: now },
		...ahead.map((row, at) => ({ at: start + at + 1, ...row })),
	];
	const upper = band.map(({ at, high }) => `${x(at)},${y(high)}`);
	const lower = [...band].reverse().map(({ at, low }) => `${x(at)},${y(low)}`);
	return (
		<svg
			class="chart"
			viewBox={`0 0 ${WIDE} ${HIGH}`}
			role="img"
			aria-label="Person hours left, week by week"
		>
			<text x="0" y="12" class="chart-word">
				person hours left, by the estimates
			</text>
			<Grid top={top} y={y} />
			<Months weeks={weeks} x={x} at={HIGH - FOOT} />
			{ahead.length > 0 && (
				<>
					<polygon class="chart-band" points={[...upper, ...lower].join(" ")} />
					<polyline
						class="chart-likely"
						points={band.map(({ at, likely }) => `${x(at)},${y(likely)}`).join(" ")}
					/>
				</>
			)}
			<polyline
				class="chart-line"
				points={done.map((row, at) => `${x(at)},${y(row.hours_left)}`).join(" ")}
			/>
			<circle class="chart-now" cx={x(start)} cy={y(now)} r="4" />
			<text class="chart-strong" x={Math.min(x(start) + 6, WIDE - 70)} y={y(now) - 8}>
				{Math.round(now)} h now
			</text>
		</svg>
	);
}

function PutIn({ work }: { work: WorkAhead }) {
	const done = work.progress;
	const top = topOf(Math.max(...done.map((row) => row.hours_put_in)));
	const wide = (WIDE - LEFT - 8) / done.length;
	const y = (hours: number): number => BARS - FOOT - ((BARS - FOOT - TOP) * hours) / top;
	const x = (at: number): number => LEFT + wide * at;
	return (
		<svg
			class="chart"
			viewBox={`0 0 ${WIDE} ${BARS}`}
			role="img"
			aria-label="Person hours put in, week by week"
		>
			<text x="0" y="12" class="chart-word">
				person hours put in
			</text>
			<Grid top={top} y={y} most={2} />
			<Months weeks={done.map((row) => row.monday)} x={x} at={BARS - FOOT} />
			{done.map((row, at) => (
				<rect
					key={row.monday}
					class="chart-bar"
					x={x(at) + wide * 0.15}
					y={y(row.hours_put_in)}
					width={wide * 0.7}
					height={y(0) - y(row.hours_put_in)}
				/>
			))}
		</svg>
	);
}

function Grid({ top, y, most = 5 }: { top: number; y: (value: number) => number; most?: number }) {
	const step = niceStep(top, most);
	const values = Array.from({ length: Math.floor(top / step) + 1 }, (_, at) => step * at);
	return (
		<>
			{values.map((value) => (
				<g key={value}>
					<line class="chart-grid" x1={LEFT} x2={WIDE} y1={y(value)} y2={y(value)} />
					<text class="chart-word" text-anchor="end" x={LEFT - 6} y={y(value) + 4}>
						{Math.round(value)}
					</text>
				</g>
			))}
		</>
	);
}

function Months({
	weeks,
	x,
	at,
}: {
	weeks: readonly string[];
	x: (at: number) => number;
	at: number;
}) {
	let last = Number.NEGATIVE_INFINITY;
	return (
		<>
			{weeks.map((monday, week) => {
				const date = new Date(`${monday}T12:00:00`);
				if (date.getDate() > 7 || x(week) - last < 44 || x(week) > WIDE - 30) return null;
				last = x(week);
				return (
					<text key={monday} class="chart-word" x={last} y={at + 16}>
						{date.toLocaleDateString("en-GB", { month: "short" })}
					</text>
				);
			})}
		</>
	);
}

/** The Mondays from the first week worked to the last one forecast. */
function weeksOf({ progress, forecast }: WorkAhead): string[] {
	const past = progress.map(({ monday }) => monday);
	const first = forecast.weeks[0]?.monday;
	const last = past.at(-1);
	// The forecast begins with the week that goes on; its end is one step after what is left now.
	const ahead = forecast.weeks.map(({ monday }) => (first === last ? weekAfter(monday) : monday));
	return [...past, ...ahead];
}

function weekAfter(monday: string): string {
	const date = new Date(`${monday}T12:00:00Z`);
	date.setUTCDate(date.getUTCDate() + 7);
	return date.toISOString().slice(0, 10);
}

/** A round step (1, 2 or 5 times a power of ten) that parts 0 to `value` into at most so many. */
export function niceStep(value: number, most: number): number {
	const rough = Math.max(1, value / most);
	const power = 10 ** Math.floor(Math.log10(rough));
	return ([1, 2, 5, 10].find((part) => part * power >= rough) ?? 10) * power;
}

/** The end of an axis that shows `value`, no more than a step above it. */
export function topOf(value: number): number {
	const step = niceStep(value, 5);
	return Math.max(1, Math.ceil(value / step)) * step;
}
