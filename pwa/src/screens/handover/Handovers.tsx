/** All handovers, the latest first. */
import type { Handover } from "../../domain/contract.ts";
import { boat } from "../../storage/boat.ts";
import { lists } from "../../sync/lists.ts";
import { Screen } from "../../ui/Screen.tsx";
import { State } from "../../ui/State.tsx";
import { count, day } from "../../ui/words.ts";
import { Mass } from "../lists/Mass.tsx";
import { PATHS } from "../paths.ts";

export function Handovers() {
	const rows = [...boat.table("handover").value.values()].sort((a, b) =>
		(b.on ?? "").localeCompare(a.on ?? ""),
	);
	return (
		<Screen title="Handovers" backTo={PATHS.waste}>
			<div class="buttons">
				<a class="button button-main button-wide button-hot" href={PATHS.newHandover()}>
					Hand over waste
				</a>
			</div>
			<div class="rows part">
				{rows.length === 0 && <p class="row pencil">Nothing has been handed over yet.</p>}
				{rows.map((row) => (
					<Row key={row.key} row={row} />
				))}
			</div>
		</Screen>
	);
}

function Row({ row }: { row: Handover }) {
	const view = lists.value.handovers?.list.handovers.find(({ key }) => key === row.key);
	const waste = view?.frozen?.waste ?? view?.waste;
	const corrections = [...boat.table("correction").value.values()].filter(
		({ handover }) => handover === row.key,
	).length;
	return (
		<a class="row" href={PATHS.handover(row.key)}>
			<span class="row-main">
				<span class="row-title">{row.to ?? "No site written down"}</span>
				<span class="row-under">
					{[row.on ? day(new Date(row.on)) : "No day", row.document].filter(Boolean).join(", ")}
				</span>
				<span class="tag-line row-tags">
					{view?.frozen ? (
						<State is="out">list frozen</State>
					) : (
						<State is="waits">list not frozen yet</State>
					)}
					{corrections > 0 && <State is="waits">{count(corrections, "correction")}</State>}
					{(view?.bans.length ?? 0) > 0 && <State is="danger">mixed</State>}
				</span>
			</span>
			{waste && <Mass of={waste.gone} />}
		</a>
	);
}
