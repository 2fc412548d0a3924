/** One tag that two phones put on two things: both are kept, one of them keeps the tag. */
import { codesOn } from "../../domain/names.ts";
import { shown } from "../../domain/tag.ts";
import { boat } from "../../storage/boat.ts";
import type { ClashSide } from "../../sync/clashes.ts";
import { Code } from "../../ui/Tag.tsx";
import { RecordCard, subjectName } from "../common/RecordCard.tsx";
import type { Dispute } from "./disputes.ts";
import { written } from "./Side.tsx";
import type { Settle } from "./settle.ts";

export function TagDispute({ dispute, settle }: { dispute: Dispute; settle: Settle }) {
	const { key: code, sides } = dispute;
	const choose = (side: ClashSide): void => {
		const keeper = nameOf(side);
		const others = sides.filter((other) => other !== side && holdsNoOther(other, code));
		const words = keeper
			? `${keeper} keeps the tag ${shown(code)}.`
			: `The tag ${shown(code)} hangs on nothing.`;
		void settle(side, words, others.map(targetOf).filter(Boolean));
	};
	return (
		<li class="clash">
			<h2 class="clash-field tag-line">
				One tag on two things <Code>{shown(code)}</Code>
			</h2>
			<p class="part-note">Look which of them it hangs on in the shed.</p>
			{sides.map((side) => {
				const [table = "", key = ""] = targetOf(side).split("/");
				return (
					<div class="clash-item" key={side.stamp + side.device}>
						{key ? <RecordCard table={table} recordKey={key} /> : <p class="strong">Taken off</p>}
						<p class="small pencil clash-written">{written(side)}</p>
						<button type="button" class="button button-wide" onClick={() => choose(side)}>
							{key ? `${shown(code)} hangs on this` : "It hangs on nothing"}
						</button>
					</div>
				);
			})}
		</li>
	);
}

function targetOf({ value }: ClashSide): string {
	return typeof value === "string" ? value : "";
}

function nameOf(side: ClashSide): string {
	const [table = "", key] = targetOf(side).split("/");
	return key ? subjectName(table, key) : "";
}

/** True if this thing is without any tag once `code` is another's. */
function holdsNoOther(side: ClashSide, code: string): boolean {
	const target = targetOf(side);
	return target !== "" && codesOn(boat.table("tag").value, target).every((other) => other === code);
}
