/** What the waste list asks about this item, and nothing else. An open answer counts as the dangerous one. */
import type { Item } from "../../domain/contract.ts";
import { kindOf } from "../../domain/names.ts";
import { asksOf, contradictionsOf, streamOfKind, streamsOf } from "../../domain/waste.ts";
import { rules } from "../../storage/rules.ts";
import { Notice } from "../../ui/Notice.tsx";
import { ANSWERS, Answer, type AnswerField, isAnswerField } from "../common/Answer.tsx";
import { theBoat } from "../common/drawn.ts";
import type { SetItem } from "./setItem.ts";

/** Findings that can be made on anything. */
const ON_ANYTHING: readonly AnswerField[] = ["soaked_in", "leaking", "lead", "asbestos"];

export function WasteFields({ item, set }: { item: Item; set: SetItem }) {
	const kind = kindOf(item, rules.value);
	const asks = asksOf(item, kind, rules.value, theBoat()?.rule_set ?? null);
	const questions = new Map(asks.map((ask) => [ask.field, ask]));
	const prompts = kind?.prompts ?? [];
	const first = (Object.keys(ANSWERS) as AnswerField[]).filter(
		(field) =>
			questions.has(field) ||
			prompts.includes(field) ||
			item[field] !== null ||
			(!kind && field === "liquid"),
	);
	const others = ON_ANYTHING.filter((field) => !first.includes(field));
	const [own] = streamsOf(item, kind, rules.value);
	return (
		<section class="part">
			<h2>For the waste list</h2>
			<Disagreeing item={item} />
			{first.map((field) => {
				const ask = questions.get(field);
				return (
					<div key={field}>
						<Answer item={item} field={field} {...(ask ? { ask: ask.ask } : {})} onKeep={set} />
						{ask && item[field] === null && (
							<p class="part-note small">Until you answer: {ask.assumed}.</p>
						)}
					</div>
				);
			})}
			{others.length > 0 && (
				<details>
					<summary>
						<span class="row-main">{first.length > 0 ? "More answers" : "Answers and tests"}</span>
					</summary>
					{others.map((field) => (
						<Answer key={field} item={item} field={field} onKeep={set} />
					))}
				</details>
			)}
			{own && kind && (
				<p class="part-note small">
					Keep it in: {own.keep_in}. Local rules and licensed firms come first.
				</p>
			)}
		</section>
	);
}

/** Answers that can't both be right, with what to do; nothing that was kept is lost. */
export function Disagreeing({ item }: { item: Item }) {
	const kind = kindOf(item, rules.value);
	const rows = contradictionsOf(item, streamOfKind(kind), rules.value?.contradictions ?? []);
	return (
		<>
			{rows.map((row) => (
				<Notice key={row.say} sort="asks" word="Answers disagree" role="status">
					{row.say} {row.do} Until then: {row.assumed}.{" "}
					{isAnswerField(row.field) && `The answer to change is “${ANSWERS[row.field].label}”.`}
				</Notice>
			))}
		</>
	);
}
