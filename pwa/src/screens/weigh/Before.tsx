/** The weighings of one thing so far: the first that counts is the one that counts. */
import type { Weighing } from "../../domain/contract.ts";
import { netOf } from "../../domain/weighing.ts";
import { State } from "../../ui/State.tsx";
import { day } from "../../ui/words.ts";

export function Before({ rows }: { rows: readonly Weighing[] }) {
	if (rows.length === 0) return null;
	const latest = rows.find((row) => "kg" in netOf(row));
	return (
		<section class="part">
			<h2>Weighed before</h2>
			<div class="rows">
				{rows.map((row) => (
					<Line key={row.key} row={row} counts={row === latest} />
				))}
			</div>
		</section>
	);
}

function Line({ row, counts }: { row: Weighing; counts: boolean }) {
	const found = netOf(row);
	return (
		<div class="row">
			<span class="row-main">
				<span class="row-title">
					{"kg" in found ? `${Number(found.kg.toFixed(3))} kg` : `${row.gross_kg ?? "?"} kg`}
				</span>
				<span class="row-under">{row.on ? day(new Date(row.on)) : "no day"}</span>
				{"why" in found && <State is="waits">{found.why}</State>}
				{row.note && <span class="row-under">{row.note}</span>}
			</span>
			{counts && <span class="small pencil">Latest</span>}
		</div>
	);
}
