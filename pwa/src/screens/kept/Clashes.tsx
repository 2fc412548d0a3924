/** Two phones wrote two values for one field: both are shown, a person says which holds. */
import { useEffect, useState } from "preact/hooks";
import type { Change, Edit } from "../../domain/change.ts";
import { isTable } from "../../domain/read.ts";
import { type Clash, type ClashSide, fetchClashes } from "../../sync/clashes.ts";
import { SyncTrouble } from "../../sync/problem.ts";
import { session } from "../../sync/session.ts";
import { syncState } from "../../sync/state.ts";
import { Notice } from "../../ui/Notice.tsx";
import { count, sentence } from "../../ui/words.ts";
import { keepOrSay } from "../common/keeping.ts";
import { NAMES, phoneName } from "../common/tellers.ts";
import { tell } from "../item/history.ts";

export function Clashes() {
	const [clashes, setClashes] = useState<readonly Clash[]>([]);
	const { lastSyncedAt } = syncState.value;
	useEffect(() => {
		if (!session.peek().paired) return;
		// The server keeps the list; out of its reach there is nothing to show, and nothing is lost.
		void fetchClashes()
			.then(setClashes)
			.catch((error: unknown) => {
				if (!(error instanceof SyncTrouble)) throw error;
			});
	}, [lastSyncedAt]);
	if (clashes.length === 0) return null;
	return (
		<section class="part">
			<h2>{count(clashes.length, "clash", "clashes")} to settle</h2>
			<p class="part-note">
				Two phones wrote different things before they had seen each other. Both are kept; say which
				one holds.
			</p>
			<ul class="rows">
				{clashes.map((clash) => (
					<OneClash
						key={`${clash.table} ${clash.key} ${clash.field}`}
						clash={clash}
						onSettled={() => setClashes(clashes.filter((other) => other !== clash))}
					/>
				))}
			</ul>
		</section>
	);
}

function OneClash({ clash, onSettled }: { clash: Clash; onSettled: () => void }) {
	const [fault, setFault] = useState<string | null>(null);
	const settle = async (side: ClashSide): Promise<void> => {
		if (!isTable(clash.table)) return;
		const edit = { table: clash.table, key: clash.key, set: { [clash.field]: side.value } } as Edit;
		const why = await keepOrSay([edit]);
		setFault(why);
		if (!why) onSettled();
	};
	return (
		<li class="question">
			<p class="strong">{subjectOf(clash)}</p>
			<div class="buttons">
				{[clash.kept, clash.lost].map((side) => (
					<button key={side.stamp} type="button" class="button" onClick={() => void settle(side)}>
						<span>
							{saying(clash, side)}
							<span class="row-under">{phoneName(side.device)}</span>
						</span>
					</button>
				))}
			</div>
			{fault && <Notice sort="danger">{fault}</Notice>}
		</li>
	);
}

function subjectOf({ table, key }: Clash): string {
	if (table === "item") return sentence(NAMES.item(key));
	if (table === "tag") return `Tag ${NAMES.code(key)}`;
	return sentence(table);
}

function saying({ table, key, field }: Clash, { value }: ClashSide): string {
	if (table === "tag" && typeof value === "string")
		return `On ${NAMES.item(value.split("/")[1] ?? "")}`;
	const change = { table, key, set: { [field]: value } } as unknown as Change;
	return tell(change, NAMES).join(". ") || `${field}: ${value}`;
}
