/** Counting in what has no tag: rags, cells, flares. Two taps where the kind is the usual one. */
import { useState } from "preact/hooks";
import { stoppedBy } from "../../domain/apart.ts";
import { countIn } from "../../domain/boxing.ts";
import type { Container } from "../../domain/contract.ts";
import { newKey } from "../../storage/boat.ts";
import { rules } from "../../storage/rules.ts";
import { SelectField } from "../../ui/Field.tsx";
import { theBoat } from "../common/drawn.ts";
import { keepOrSay } from "../common/keeping.ts";
import { itemsIn, streamIds } from "./boxWords.ts";

interface Props {
	box: Container;
	onSaid: (said: { sort: "done" | "asks"; words: string }) => void;
}

export function CountIn({ box, onSaid }: Props) {
	const kinds = kindsFor(box);
	const [chosen, setChosen] = useState<string | null>(null);
	const [number, setNumber] = useState(1);
	const kind = kinds.find(({ id }) => id === chosen) ?? kinds[0];
	if (!kind) return null;
	const add = async (): Promise<void> => {
		const edits = countIn(newKey(), kind.id, number, box, new Date().toISOString());
		const fault = await keepOrSay(edits);
		const words = fault ?? `${number} × ${kind.name.toLowerCase()} put in. Kept on this phone.`;
		onSaid({ sort: fault ? "asks" : "done", words });
		if (!fault) setNumber(1);
	};
	return (
		<section class="part">
			<h2>Count in what has no tag</h2>
			<SelectField label="What it is" value={kind.id} onChange={setChosen}>
				{kinds.map(({ id, name }) => (
					<option key={id} value={id}>
						{name}
					</option>
				))}
			</SelectField>
			<div class="count-row">
				<button
					type="button"
					class="button button-hot"
					aria-label="One less"
					onClick={() => setNumber(Math.max(1, number - 1))}
				>
					−
				</button>
				<output class="figure-large" aria-live="polite">
					{number}
				</output>
				<button
					type="button"
					class="button button-hot"
					aria-label="One more"
					onClick={() => setNumber(Math.min(100_000, number + 1))}
				>
					+
				</button>
				<button type="button" class="button button-main button-hot" onClick={() => void add()}>
					Put in
				</button>
			</div>
		</section>
	);
}

/** Kinds of the container's stream that nothing in it forbids; what was put in last stands first. */
function kindsFor(box: Container) {
	const known = rules.value;
	if (!known || !box.stream) return [];
	const inside = itemsIn(box.key);
	const streams = inside.flatMap(streamIds);
	const fit = known.kinds.filter(
		({ waste }) =>
			waste === box.stream &&
			!stoppedBy(known, theBoat()?.rule_set ?? null, [waste], box.stream, streams),
	);
	const last = [...inside].sort((a, b) => (a.key < b.key ? 1 : -1))[0]?.kind;
	return fit.sort((a, b) => Number(b.id === last) - Number(a.id === last));
}
