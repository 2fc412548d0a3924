/** Handing over: tick what goes, write who takes it, keep. Works with no signal. */
import { useRef, useState } from "preact/hooks";
import { handOver, oddAbout, type Papers } from "../../domain/boxing.ts";
import { boat, newKey } from "../../storage/boat.ts";
import { LabelledInput } from "../../ui/LabelledInput.tsx";
import { Notice } from "../../ui/Notice.tsx";
import { address, go } from "../../ui/router.ts";
import { Screen } from "../../ui/Screen.tsx";
import { count } from "../../ui/words.ts";
import { itemsIn, stateOf } from "../boxes/boxWords.ts";
import { keepOrSay } from "../common/keeping.ts";
import { PATHS } from "../paths.ts";
import { WhatGoes } from "./WhatGoes.tsx";

const FIELDS = [
	["to", "Site or firm that takes it", "text"],
	["carrier", "Who carries it", "text"],
	["document", "Number of the document", "text"],
	["note", "Note", "text"],
] as const;

export function NewHandover() {
	const first = address.value.query.get("container");
	const [boxes, setBoxes] = useState<ReadonlySet<string>>(new Set(first ? [first] : []));
	const [loose, setLoose] = useState<ReadonlySet<string>>(new Set());
	const [papers, setPapers] = useState<Papers>({
		on: today(),
		to: "",
		carrier: "",
		document: "",
		note: "",
	});
	const [fault, setFault] = useState<string | null>(null);
	const key = useRef(newKey());
	const here = [...boat.table("container").value.values()].filter((box) => stateOf(box) !== "gone");
	const going = here.filter((box) => boxes.has(box.key));
	const inside = going.flatMap((box) => itemsIn(box.key));
	const items = [...boat.table("item").value.values()].filter((item) => loose.has(item.key));
	const odd = oddAbout(papers, going, [...inside, ...items], today());
	const keep = async (event: Event): Promise<void> => {
		event.preventDefault();
		if (going.length + items.length === 0)
			return setFault("Nothing is ticked. Tick a container or a loose item that goes.");
		const now = new Date().toISOString();
		const why = await keepOrSay(handOver(key.current, papers, going, inside, items, now));
		if (why) setFault(why);
		else go(PATHS.handover(key.current), { replace: true });
	};
	return (
		<Screen title="Hand over" backTo={PATHS.handovers}>
			<form onSubmit={(event) => void keep(event)}>
				<WhatGoes here={here} boxes={boxes} onBoxes={setBoxes} loose={loose} onLoose={setLoose} />
				<section class="part">
					<h2>The papers</h2>
					<LabelledInput
						label="Day"
						type="date"
						required
						value={papers.on}
						onType={(on) => setPapers({ ...papers, on })}
					/>
					{FIELDS.map(([name, label, type]) => (
						<LabelledInput
							key={name}
							label={label}
							type={type}
							longest={name === "note" ? 4000 : 200}
							value={papers[name]}
							onType={(text) => setPapers({ ...papers, [name]: text })}
						/>
					))}
				</section>
				{odd.map((words) => (
					<Notice key={words} sort="asks">
						{words} It can be kept as it is.
					</Notice>
				))}
				<p class="part-note">
					{count(going.length, "container")} and {count(items.length, "loose item")} go. The server
					freezes the list with this; what turns out wrong later is written as a correction beside
					it.
				</p>
				{fault && (
					<Notice sort="asks" role="alert">
						{fault}
					</Notice>
				)}
				<div class="buttons">
					<button type="submit" class="button button-main button-wide button-hot">
						Hand over
					</button>
				</div>
			</form>
		</Screen>
	);
}

function today(): string {
	const at = new Date();
	const two = (n: number): string => String(n).padStart(2, "0");
	return `${at.getFullYear()}-${two(at.getMonth() + 1)}-${two(at.getDate())}`;
}
