/** The lift drawn from the side and from aft: hook, legs with angle and pull, middle of mass. */
import type { LiftLine } from "../../domain/contract.ts";
import { SIDE, type Strand, type View, viewsOf } from "./liftViews.ts";
import "./lift.css";

const TOP = 44;
const LEFT = 58;
const HIGH = TOP + SIDE + 40;
const WIDE = SIDE + 2 * LEFT;

export function LiftDrawing({ line }: { line: LiftLine }) {
	const views = viewsOf(line);
	if (!views) return null;
	const flat = views.aft.strands.every(({ label }) => label === null);
	return (
		<figure class="lift-drawing">
			<OneView view={views.side} title="From the side, bow left" line={line} />
			{!flat || line.legs.length > 2 ? (
				<OneView view={views.aft} title="From aft" line={line} />
			) : (
				<OneView view={views.aft} title="From aft, the legs one behind the other" line={line} />
			)}
			<figcaption class="small pencil">
				Angles from the vertical, pulls without jerks. The dashed box stands for the load; its shape
				is not known. The bar through the middle of mass is how far it may be off.
			</figcaption>
		</figure>
	);
}

function OneView({ view, title, line }: { view: View; title: string; line: LiftLine }) {
	const { hook, centre, load, strands } = view;
	return (
		<svg
			viewBox={`${-LEFT} ${-TOP} ${WIDE} ${HIGH}`}
			role="img"
			aria-label={`${title}. ${labelOf(line)}`}
		>
			<text x={SIDE / 2} y={-TOP + 13} class="lift-title">
				{title}
			</text>
			<path class="lift-hook" d={`M${hook.x} -22 V-8 a5 5 0 1 0 5 5`} />
			<path class="lift-plumb" d={`M${hook.x} 0 V${load.foot}`} />
			<rect
				class="lift-load"
				x={load.left}
				y={load.top}
				width={load.right - load.left}
				height={load.foot - load.top}
			/>
			{strands.map((strand) => (
				<Leg key={strand.number} strand={strand} hook={hook} />
			))}
			<path
				class="lift-spread"
				d={`M${centre.from} ${centre.y} H${centre.to} M${centre.from} ${centre.y - 4} v8 M${centre.to} ${centre.y - 4} v8`}
			/>
			<circle class="lift-centre" cx={centre.x} cy={centre.y} r="6" />
			<path
				class="lift-quarters"
				d={`M${centre.x} ${centre.y} v-6 a6 6 0 0 1 6 6 z M${centre.x} ${centre.y} v6 a6 6 0 0 1 -6 -6 z`}
			/>
			<path class="lift-never" d={`M${load.left - 8} ${load.foot + 9} H${load.right + 8}`} />
			<text x={(load.left + load.right) / 2} y={load.foot + 25} class="lift-never-words">
				nobody under it
			</text>
		</svg>
	);
}

function Leg({ strand, hook }: { strand: Strand; hook: { x: number; y: number } }) {
	const { eye, label, leg, over, number } = strand;
	return (
		<g class={over ? "lift-over" : undefined}>
			<path class="lift-leg" d={`M${hook.x} ${hook.y} L${eye.x} ${eye.y}`} />
			<circle class="lift-eye" cx={eye.x} cy={eye.y} r="3.5" />
			{label && (
				<text x={label.x} y={label.y} class="lift-words" text-anchor={label.left ? "end" : "start"}>
					<tspan>
						{number}: {Math.round(leg.angle_deg)}°
					</tspan>
					<tspan x={label.x} dy="14">
						{Math.round(leg.tension_kg)} kg{over ? ", over" : ""}
					</tspan>
				</text>
			)}
		</g>
	);
}

/** What the drawing says, for those who hear it. */
function labelOf({ legs }: LiftLine): string {
	return legs
		.map(
			(leg, n) =>
				`${n + 1}, ${leg.name}: ${Math.round(leg.angle_deg)}° from the vertical, pulls ${Math.round(leg.tension_kg)} kg, ${leg.verdict}`,
		)
		.join(". ");
}
