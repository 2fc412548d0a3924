/** What the waste list asks about an item. An open answer counts as the dangerous one. */
import type { Item } from "../../domain/contract.ts";
import { kindOf } from "../../domain/names.ts";
import { rules } from "../../storage/rules.ts";
import { ANSWERS, Answer, type AnswerField } from "../common/Answer.tsx";
import type { SetItem } from "./EditItem.tsx";

export function WasteFields({ item, set }: { item: Item; set: SetItem }) {
	const prompts = kindOf(item, rules.value)?.prompts ?? [];
	const fields = Object.keys(ANSWERS) as AnswerField[];
	const first = fields.filter((field) => prompts.includes(field) || item[field] !== null);
	const others = fields.filter((field) => !first.includes(field));
	return (
		<section class="part">
			<h2>For the waste list</h2>
			{first.map((field) => (
				<Answer key={field} item={item} field={field} onKeep={set} />
			))}
			<details>
				<summary>
					<span class="row-main">{first.length > 0 ? "More answers" : "Answers and tests"}</span>
				</summary>
				{others.map((field) => (
					<Answer key={field} item={item} field={field} onKeep={set} />
				))}
			</details>
		</section>
	);
}
