/** Every written order of the boat, by what waits; rings on top, for nothing in one can be begun. */
import type { Before } from "../../domain/contract.ts";
import { boat } from "../../storage/boat.ts";
import { Growing } from "../../ui/Growing.tsx";
import { Notice } from "../../ui/Notice.tsx";
import { Screen } from "../../ui/Screen.tsx";
import { count } from "../../ui/words.ts";
import { PATHS } from "../paths.ts";
import { waits } from "../work/open.ts";
import { OrderRow } from "./OrdersPart.tsx";
import { idleOf, targetName, targetPath } from "./targets.ts";

export function Orders() {
	const befores = [...boat.table("before").value.values()].filter(
		({ first, then }) => first && then,
	);
	const done = befores.filter((row) => idleOf(row) !== null);
	const groups = grouped(befores.filter((row) => idleOf(row) === null));
	return (
		<Screen title="Orders of work" backTo={PATHS.work}>
			{waits()?.rings.map((ring) => (
				<Notice key={ring.join(" ")} sort="asks" word="A ring">
					{[...ring, ring[0]].join(" before ")}. Nothing in it can be begun: take one of these
					orders back.
				</Notice>
			))}
			{befores.length === 0 && (
				<p>
					None is written yet. Open an item, a job or a compartment and say what must come first.
				</p>
			)}
			<Growing of={groups}>
				{([then, rows]) => <Group key={then} then={then} rows={rows} />}
			</Growing>
			{befores.length > 0 && groups.length === 0 && <p>No order holds anything back any more.</p>}
			{done.length > 0 && (
				<details class="part">
					<summary>
						<span class="row-main">
							<span class="row-title">
								{count(done.length, "order holds", "orders hold")} nothing back any more
							</span>
							<span class="row-under">One side is out, done or in the bin</span>
						</span>
					</summary>
					<Growing of={grouped(done)}>
						{([then, rows]) => <Group key={then} then={then} rows={rows} />}
					</Growing>
				</details>
			)}
		</Screen>
	);
}

/** By what waits, in the order of its name. */
function grouped(rows: readonly Before[]): readonly (readonly [string, readonly Before[]])[] {
	const byThen = new Map<string, Before[]>();
	for (const row of rows) byThen.set(row.then ?? "", [...(byThen.get(row.then ?? "") ?? []), row]);
	return [...byThen].sort(([a], [b]) => targetName(a).localeCompare(targetName(b), "en-GB"));
}

function Group({ then, rows }: { then: string; rows: readonly Before[] }) {
	return (
		<section class="part">
			<h2>
				<a class="order-then" href={targetPath(then)}>
					{targetName(then)}
				</a>
			</h2>
			<p class="part-note">waits for</p>
			<ul class="rows">
				{rows.map((row) => (
					<OrderRow key={row.key} row={row} side="first" />
				))}
			</ul>
		</section>
	);
}
