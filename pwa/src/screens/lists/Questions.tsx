/** Questions to a person, answered where they stand. Until then the cautious answer counts. */
import { useState } from "preact/hooks";
import type { Question } from "../../domain/contract.ts";
import { boat } from "../../storage/boat.ts";
import { Notice } from "../../ui/Notice.tsx";
import { count } from "../../ui/words.ts";
import { Answer, isAnswerField } from "../common/Answer.tsx";
import { keepOrSay } from "../common/keeping.ts";
import { PATHS } from "../paths.ts";

const FIRST_SHOWN = 4;

export function Questions({ questions }: { questions: readonly Question[] }) {
	const [all, setAll] = useState(false);
	if (questions.length === 0) return null;
	return (
		<details class="fold fold-asks">
			<summary>
				<span class="row-main">
					<span class="notice-word">{count(questions.length, "question")} to answer</span>
					<span class="row-under">Until you answer, the list assumes the worse case.</span>
				</span>
			</summary>
			<ul class="rows">
				{(all ? questions : questions.slice(0, FIRST_SHOWN)).map((question) => (
					<OneQuestion key={`${question.item} ${question.field}`} question={question} />
				))}
			</ul>
			{!all && questions.length > FIRST_SHOWN && (
				<button type="button" class="button button-wide" onClick={() => setAll(true)}>
					Show all {questions.length} questions
				</button>
			)}
		</details>
	);
}

function OneQuestion({ question }: { question: Question }) {
	const [fault, setFault] = useState<string | null>(null);
	const { item: key, field, ask, assumed, name } = question;
	const item = boat.table("item").value.get(key);
	return (
		<li class="question">
			<p class="small">
				<a class="question-item" href={PATHS.item(key)}>
					{name}
				</a>{" "}
				<span class="pencil">Assumed: {assumed}</span>
			</p>
			{item && isAnswerField(field) ? (
				<Answer
					item={item}
					field={field}
					ask={ask}
					onKeep={async (set) => {
						const why = await keepOrSay([{ table: "item", key, set }]);
						setFault(why);
						return why;
					}}
				/>
			) : (
				<>
					<p>{ask}</p>
					<a
						class="button button-wide part-tight"
						href={field === "sounding" ? PATHS.tank(key) : PATHS.editItem(key)}
					>
						{field === "sounding" ? "Sound it" : "Fill it in"}
					</a>
				</>
			)}
			{fault && <Notice sort="danger">{fault}</Notice>}
		</li>
	);
}
