/** The hot path of a container: scan one thing after another into it, or count what has no tag. */
import { useState } from "preact/hooks";
import { pathsOf, type Stopped, stoppedBy } from "../../domain/apart.ts";
import { putIn } from "../../domain/boxing.ts";
import type { Container, Item } from "../../domain/contract.ts";
import { itemName, kindOf } from "../../domain/names.ts";
import type { PathForPhone } from "../../domain/rules.ts";
import { shown } from "../../domain/tag.ts";
import { asksOf } from "../../domain/waste.ts";
import { boat, newKey } from "../../storage/boat.ts";
import { rules } from "../../storage/rules.ts";
import { Icon } from "../../ui/Icon.tsx";
import { Notice } from "../../ui/Notice.tsx";
import { CodeEntry } from "../common/CodeEntry.tsx";
import { theBoat } from "../common/drawn.ts";
import { keepOrSay } from "../common/keeping.ts";
import { ScanBox } from "../common/ScanBox.tsx";
import { ownerOf } from "../common/tagOwner.ts";
import { PATHS } from "../paths.ts";
import { AllTheSame } from "./AllTheSame.tsx";
import { itemsIn, streamIds } from "./boxWords.ts";
import { CountIn } from "./CountIn.tsx";
import { PathSteps } from "./PathSteps.tsx";

type Said = { readonly sort: "done" | "asks"; readonly words: string };
type Held = { readonly item: Item; readonly stopped: Stopped };

export function PutInto({ box }: { box: Container }) {
	const [scanning, setScanning] = useState(false);
	const [said, setSaid] = useState<Said | null>(null);
	const [held, setHeld] = useState<Held | null>(null);
	const [paths, setPaths] = useState<readonly PathForPhone[]>([]);
	const keep = async (item: Item, mixing: { who: string; why: string } | null): Promise<void> => {
		const now = new Date().toISOString();
		const edits = putIn(item, box, now);
		if (mixing) {
			const set = { container: box.key, item: item.key, on: now, ...mixing };
			edits.push({ table: "mixing", key: newKey(), set });
		}
		const fault = await keepOrSay(edits);
		setHeld(null);
		setSaid(
			fault
				? { sort: "asks", words: fault }
				: { sort: "done", words: `${nameOf(item)} is in. Kept on this phone.` },
		);
	};
	const seen = (code: string): void => {
		const owner = ownerOf(code);
		if (owner.sort === "container" && owner.key === box.key) return;
		const item = owner.sort === "item" ? boat.table("item").value.get(owner.key) : undefined;
		if (!item) {
			const on = owner.sort === "free" ? "nothing that this phone knows" : owner.name;
			setSaid({ sort: "asks", words: `${shown(code)} is on ${on}. Scan the tag of an item.` });
			return;
		}
		setSaid(null);
		setPaths(pathsOf(item, kindOf(item, rules.value), rules.value));
		const stopped = whatStops(item, box);
		setHeld(stopped ? { item, stopped } : null);
		if (!stopped) void keep(item, null);
	};
	return (
		<>
			<PathSteps of={paths} />
			{held && (
				<AllTheSame
					key={held.item.key}
					name={nameOf(held.item)}
					answersAt={openAnswers(held.item)}
					stopped={held.stopped}
					onLeave={() => {
						setHeld(null);
						setSaid({ sort: "done", words: `${nameOf(held.item)} stays where it is.` });
					}}
					onAllTheSame={(who, why) => void keep(held.item, { who, why })}
				/>
			)}
			{said && (
				<Notice sort={said.sort} role="status">
					{said.words}
				</Notice>
			)}
			{!held &&
				(scanning ? (
					<ScanBox onCode={seen} onClose={() => setScanning(false)} />
				) : (
					<div class="buttons">
						<button
							type="button"
							class="button button-main button-wide button-hot"
							onClick={() => setScanning(true)}
						>
							<Icon name="scan" /> Scan things into it
						</button>
					</div>
				))}
			{!held && <CodeEntry label="Or type an item's code" button="Put in" onCode={seen} />}
			{!held && <CountIn box={box} onSaid={setSaid} />}
		</>
	);
}

function whatStops(item: Item, box: Container): Stopped | null {
	if (!rules.value) return null;
	const inside = itemsIn(box.key).filter(({ key }) => key !== item.key);
	return stoppedBy(
		rules.value,
		theBoat()?.rule_set ?? null,
		streamIds(item),
		box.stream,
		inside.flatMap(streamIds),
	);
}

/** The item's own screen, where something is still asked of it. */
function openAnswers(item: Item): string | null {
	const ruleSet = theBoat()?.rule_set ?? null;
	const said = item as unknown as Readonly<Record<string, unknown>>;
	const open = asksOf(item, kindOf(item, rules.value), rules.value, ruleSet).some(
		({ field }) => (said[field] ?? null) === null,
	);
	return open ? PATHS.item(item.key) : null;
}

function nameOf(item: Item): string {
	return itemName(item, rules.value);
}
