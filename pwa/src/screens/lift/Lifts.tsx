/** Every lift that was written down, with what the server made of it. */
import type { Lift, LiftLine } from "../../domain/contract.ts";
import { itemName } from "../../domain/names.ts";
import { boat } from "../../storage/boat.ts";
import { rules } from "../../storage/rules.ts";
import { lists } from "../../sync/lists.ts";
import { Cautions } from "../../ui/Notice.tsx";
import { Screen } from "../../ui/Screen.tsx";
import { State } from "../../ui/State.tsx";
import { ago } from "../../ui/words.ts";
import { PATHS } from "../paths.ts";

export function Lifts() {
	const aged = lists.value.lifts;
	const lifts = [...boat.table("lift").value.values()].sort((a, b) => (a.key < b.key ? 1 : -1));
	const base = `/api/boats/${boat.key.value}/lists/lifts`;
	const under = aged
		? `Worked out by the server ${ago(Date.parse(aged.madeAt), Date.now())}.`
		: undefined;
	return (
		<Screen title="Lifts" under={under} backTo={PATHS.boat}>
			<Cautions of={aged?.list.cautions ?? []} />
			<div class="rows">
				{lifts.map((lift) => (
					<Row
						key={lift.key}
						lift={lift}
						line={aged?.list.lifts.find(({ key }) => key === lift.key)}
					/>
				))}
			</div>
			{lifts.length === 0 && (
				<div class="empty">
					<h2>No lift is planned yet</h2>
					<p>Open the item that is to be lifted and tap “Plan a lift”.</p>
				</div>
			)}
			<section class="part">
				<h2>Print</h2>
				<div class="buttons">
					<a class="button" href={`${base}.pdf`} target="_blank" rel="noreferrer">
						The lifts (PDF)
					</a>
					<a class="button" href={`${base}.csv`} download="lifts.csv">
						Table (CSV)
					</a>
				</div>
				<p class="part-note">The server prints, so this needs a connection to it.</p>
			</section>
		</Screen>
	);
}

function Row({ lift, line }: { lift: Lift; line: LiftLine | undefined }) {
	const item = boat.table("item").value.get(lift.of ?? "");
	const over = line?.legs.some(({ verdict }) => verdict.startsWith("over")) ?? false;
	return (
		<a class="row" href={PATHS.lift(lift.key)}>
			<span class="row-main">
				<span class="row-title">
					{lift.name ?? (item ? itemName(item, rules.value) : "What is lifted is not here")}
				</span>
				<span class="row-under">
					{line?.mass.high
						? `${Math.round(line.mass.likely)} kg on the hook, up to ${Math.round(line.mass.high)} kg`
						: "The result comes with the server's next list"}
				</span>
				{line?.refused && <State is="waits">not reckoned yet</State>}
				{over && <State is="danger">a leg is over its rating</State>}
			</span>
		</a>
	);
}
