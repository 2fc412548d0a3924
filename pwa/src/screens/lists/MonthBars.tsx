/** What came up in each month as bars; the hazardous part filled, the rest an outline above it. */
import type { MonthLine } from "../../domain/contract.ts";
import "../work/work.css";

const WIDE = 358;
const HIGH = 130;
const FOOT = 20;
const TOP = 34;

export function MonthBars({ months }: { months: readonly MonthLine[] }) {
	const shown = months.slice(0, 12).reverse();
	const top = Math.max(...shown.map(({ came_up }) => came_up.likely), 0);
	if (top === 0) return null;
	const step = Math.min(WIDE / shown.length, 72);
	const high = (kg: number): number => ((HIGH - FOOT - TOP) * kg) / top;
	const foot = HIGH - FOOT;
	return (
		<svg
			class="chart"
			viewBox={`0 0 ${WIDE} ${HIGH}`}
			role="img"
			aria-label="Kilograms that came up in each month; the rows below say the same"
		>
			<text x="0" y="12" class="chart-word">
				kg that came up; filled: hazardous
			</text>
			<line class="chart-grid" x1="0" x2={WIDE} y1={foot} y2={foot} />
			{shown.map(({ period, came_up, hazardous }, at) => {
				const left = step * at + step * 0.15;
				const middle = left + step * 0.35;
				return (
					<g key={period}>
						<rect
							class="chart-line"
							x={left}
							y={foot - high(came_up.likely)}
							width={step * 0.7}
							height={high(came_up.likely)}
						/>
						<rect
							class="chart-bar"
							x={left}
							y={foot - high(hazardous.likely)}
							width={step * 0.7}
							height={high(hazardous.likely)}
						/>
						<text
							class="chart-strong"
							text-anchor="middle"
							x={middle}
							y={foot - high(came_up.likely) - 5}
						>
							{Math.round(came_up.likely)}
						</text>
						<text class="chart-word" text-anchor="middle" x={middle} y={HIGH - 4}>
							{new Date(`${period}-01T12:00:00`).toLocaleDateString("en-GB", { month: "short" })}
						</text>
					</g>
				);
			})}
		</svg>
	);
}
