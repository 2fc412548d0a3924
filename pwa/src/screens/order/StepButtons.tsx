/** How far a line is: all four words to choose from, or the next one in one tap. */
import { useState } from "preact/hooks";
import { after, type Step, stepEdits } from "../../domain/buying.ts";
import type { OrderLine } from "../../domain/contract.ts";
import { boat } from "../../storage/boat.ts";
import { Choice } from "../../ui/Choice.tsx";
import { Notice } from "../../ui/Notice.tsx";
import { sentence } from "../../ui/words.ts";
import { keepOrSay } from "../common/keeping.ts";
import { shortSpec, stateOn } from "./lines.ts";

const STEPS = [
	{ value: "to buy", label: "To buy" },
	{ value: "bought", label: "Bought" },
	{ value: "arrived", label: "Arrived" },
	{ value: "fitted", label: "Fitted" },
] as const;

export function StepChoice({ line }: { line: OrderLine }) {
	const [said, setSaid] = useState<string | null>(null);
	const state = stateOn(line);
	const choose = async (to: Step): Promise<void> => {
		setSaid((await take(line, to)) ?? held(line, to));
	};
	return (
		<>
			<Choice
				name={`step-${line.id}`}
				legend="How far it is"
				wrap
				options={STEPS}
				value={state}
				onChange={(to) => void choose(to ?? "to buy")}
			/>
			{said && (
				<Notice sort="asks" role="alert">
					{said}
				</Notice>
			)}
		</>
	);
}

/** The next step of a line, one tap in the list. */
export function NextStep({ line }: { line: OrderLine }) {
	const [said, setSaid] = useState<string | null>(null);
	const next = after(stateOn(line));
	if (said) return <Notice sort="asks">{said}</Notice>;
	if (!next) return null;
	return (
		<button
			type="button"
			class="button"
			aria-label={`${sentence(next)}: ${shortSpec(line)}`}
			onClick={() => void take(line, next).then(setSaid)}
		>
			{sentence(next)}
		</button>
	);
}

function take(line: OrderLine, to: Step): Promise<string | null> {
	const now = new Date().toISOString();
	return keepOrSay(stepEdits(line, stateOn(line), to, now, boat.table("item").value));
}

/** Why a step back was kept and the line stands further on all the same. */
function held(line: OrderLine, to: Step): string | null {
	if (stateOn(line) === to) return null;
	return "Kept, but its new parts have their tags and are here, so it counts as arrived. Put a new part in the bin if it isn't there.";
}
