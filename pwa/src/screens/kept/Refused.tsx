/** Edits that the server refused: what they were, why, and what may be done with each. */
import { useState } from "preact/hooks";
import { discardRejected, type RejectedChange, sendAgain, syncNow } from "../../sync/state.ts";
import { count, sentence } from "../../ui/words.ts";
import { PATHS } from "../paths.ts";

export function Refused({ refused }: { refused: readonly RejectedChange[] }) {
	if (refused.length === 0) return null;
	return (
		<section class="part">
			<h2>{count(refused.length, "edit")} refused by the server</h2>
			<ul class="rows">
				{refused.map((one) => (
					<OneRefused key={one.id} refused={one} />
				))}
			</ul>
		</section>
	);
}

function OneRefused({ refused }: { refused: RejectedChange }) {
	const [sure, setSure] = useState(false);
	const { change, title, detail, id } = refused;
	const fields = Object.entries(change.set)
		.map(([field, value]) => `${field.replaceAll("_", " ")}: ${value}`)
		.join(", ");
	const drop = async (): Promise<void> => {
		if (!sure) {
			setSure(true);
			return;
		}
		await discardRejected(id);
		void syncNow();
	};
	return (
		<li class="question">
			<p class="strong">{title}</p>
			<p>{sentence(detail)}</p>
			<p class="small pencil">
				{change.table}, {fields}
			</p>
			<div class="buttons">
				{change.table === "item" && (
					<a class="button" href={PATHS.editItem(change.key)}>
						Mend it
					</a>
				)}
				<button
					type="button"
					class="button"
					onClick={() => void sendAgain(id).then(() => syncNow())}
				>
					Send again
				</button>
				<button type="button" class="button" onClick={() => void drop()}>
					{sure ? "Yes, give this edit up" : "Give up"}
				</button>
			</div>
		</li>
	);
}
