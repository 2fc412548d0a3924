/** What the server reckoned of a lift, or why it could not. */
import type { LiftLeg, LiftLine } from "../../domain/contract.ts";
import { Notice } from "../../ui/Notice.tsx";
import { State } from "../../ui/State.tsx";
import { LiftDrawing } from "./LiftDrawing.tsx";

export function LiftResult({ line }: { line: LiftLine | undefined }) {
	if (!line)
		return (
			<Notice sort="plain">
				What you write is kept here at once; the result comes with the server's next list.
			</Notice>
		);
	return (
		<section class="part">
			<h2>As the server has it</h2>
			{line.refused && <Notice sort="asks">Not reckoned. {line.refused}</Notice>}
			{line.mass.high > 0 && (
				<p>
					<b>{Math.round(line.mass.likely)} kg</b> on the hook, {Math.round(line.mass.low)} to{" "}
					{Math.round(line.mass.high)} kg. Count on {Math.round(line.hook_kg)} kg, jerks included
					{line.hook_rated_kg !== null && line.hook_verdict && `: ${line.hook_verdict}`}.
				</p>
			)}
			<LiftDrawing line={line} />
			{line.legs.length > 0 && <p>It will hang {line.tilt_deg.toFixed(1)}° out of level.</p>}
			{[...line.warnings, ...line.asks].map((text) => (
				<Notice key={text} sort="asks">
					{text}
				</Notice>
			))}
			<div class="rows">
				{line.legs.map((leg, n) => (
					<Leg key={leg.eye} leg={leg} number={n + 1} />
				))}
			</div>
			{line.outside && <p class="part-note">{line.outside}</p>}
			{line.parts.length > 0 && (
				<ul class="small part-tight">
					{line.parts.map((part) => (
						<li key={part.key}>
							{part.name}, {Math.round(part.mass.likely)} kg: {part.why}
						</li>
					))}
				</ul>
			)}
		</section>
	);
}

function Leg({ leg, number }: { leg: LiftLeg; number: number }) {
	return (
		<div class="row">
			<span class="row-main">
				<span class="row-title">
					{number}: {leg.name}
				</span>
				<span class="row-under">
					{leg.length_m.toFixed(2)} m long, {Math.round(leg.angle_deg)}° from the vertical
				</span>
				<State is={verdictOf(leg)}>{leg.verdict}</State>
			</span>
			<span class="mass">
				<span class="strong">{Math.round(leg.tension_kg)} kg</span>
				<small>at most {Math.round(leg.most_kg)} kg</small>
			</span>
		</div>
	);
}

function verdictOf(leg: LiftLeg): "danger" | "waits" | "out" {
	if (leg.rated_kg === null) return "waits";
	return leg.most_kg > leg.rated_kg ? "danger" : "out";
}
