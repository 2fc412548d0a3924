/** The connection diagram of what hangs together: boxes by compartment, lines of right angles. */
import type { DrawnBlock, DrawnNode, DrawnRun } from "../../domain/contract.ts";

const LINE = 13;
/** Brings the smallest letters of the drawing, 10 of its units, to 12 px: it scrolls instead. */
const SCALE = 1.2;

/** `label` is the drawing in words; the table beside it says the same and more. */
export function SchedulePicture({ block, label }: { block: DrawnBlock; label: string }) {
	return (
		// biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls must be reachable by key
		<section class="schedule-scroll" tabIndex={0} aria-label={label}>
			<svg
				class="schedule-drawing"
				viewBox={`0 0 ${block.width} ${block.height}`}
				width={block.width * SCALE}
				height={block.height * SCALE}
				aria-hidden="true"
			>
				{block.columns.map((column) => (
					<g key={column.x}>
						{column.name.map((text, at) => (
							<text key={text} class="schedule-place" x={column.x} y={11 + LINE * at}>
								{text}
							</text>
						))}
						<path
							class="schedule-hair"
							d={`M${column.x} ${LINE * column.name.length + 4}h${column.width}`}
						/>
					</g>
				))}
				{block.runs.map((run) => (
					<Run key={`${run.item} ${run.corners.join()}`} run={run} />
				))}
				{block.nodes.map((node) => (
					<Node key={node.key} node={node} />
				))}
			</svg>
		</section>
	);
}

function Run({ run }: { run: DrawnRun }) {
	const points = run.corners
		.map((value, at) => `${value}${at % 2 ? " " : ","}`)
		.join("")
		.trim();
	const [x, y] = run.label;
	return (
		<g>
			<polyline class="schedule-run" points={points} />
			<text class="schedule-name" x={x} y={y}>
				{run.name}
			</text>
			<text class="schedule-size" x={x} y={(y ?? 0) + LINE + 1}>
				{run.size}
			</text>
		</g>
	);
}

function Node({ node }: { node: DrawnNode }) {
	const lines = node.tag ? [...node.lines, node.tag] : node.lines;
	return (
		<g>
			<rect
				class="schedule-box"
				data-sort={node.sort}
				x={node.x}
				y={node.y}
				width={node.width}
				height={node.height}
				rx={node.sort === "point" || node.sort === "joint" ? 8 : 0}
			/>
			{lines.map((text, at) => (
				<text
					key={text}
					class={node.tag && at === node.lines.length ? "schedule-name" : "schedule-word"}
					x={node.x + 5}
					y={node.y + 12 + LINE * at}
				>
					{text}
				</text>
			))}
		</g>
	);
}
