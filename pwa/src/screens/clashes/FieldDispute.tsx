/** Two values of one field. */
import { sentence } from "../../ui/words.ts";
import { fieldName, valueWords } from "../common/fieldWords.ts";
import { RecordCard, subjectName } from "../common/RecordCard.tsx";
import { NAMES } from "../common/tellers.ts";
import type { Dispute } from "./disputes.ts";
import { Side } from "./Side.tsx";
import type { Settle } from "./settle.ts";

const LONG = 60;

export function FieldDispute({ dispute, settle }: { dispute: Dispute; settle: Settle }) {
	const { table, key, field, sides } = dispute;
	const asked = sentence(fieldName(table, field));
	return (
		<li class="clash">
			<RecordCard table={table} recordKey={key} />
			<h2 class="clash-field">{asked}</h2>
			{sides.map((side, at) => {
				const words = sentence(valueWords(table, field, side.value, NAMES));
				return (
					<Side
						key={side.stamp + side.device}
						side={side}
						stands={at === 0}
						long={words.length > LONG}
						does="Keep this"
						onTap={() =>
							void settle(side, `${subjectName(table, key)}. ${asked}: ${brief(words)}.`)
						}
					>
						{words}
					</Side>
				);
			})}
		</li>
	);
}

function brief(words: string): string {
	return words.length > LONG ? `${words.slice(0, LONG).trimEnd()}…` : words;
}
