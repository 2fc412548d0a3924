/** Listing one compartment: likely kinds as large buttons, others by their name; a tap is a piece. */
import { useState } from "preact/hooks";
import type { Compartment, Item } from "../../domain/contract.ts";
import { itemName } from "../../domain/names.ts";
import { kindsFor } from "../../domain/search.ts";
import { newKey } from "../../storage/boat.ts";
import { rules } from "../../storage/rules.ts";
import { Notice } from "../../ui/Notice.tsx";
import { Screen } from "../../ui/Screen.tsx";
import { Suggest } from "../../ui/Suggest.tsx";
import { count } from "../../ui/words.ts";
import { keepOrSay } from "../common/keeping.ts";
import { PATHS } from "../paths.ts";
import { aboardIn, kindName, likelyHere, recentKinds } from "./likely.ts";
import { ShootIt } from "./ShootIt.tsx";
import { listedSet } from "./template.ts";

interface Last {
	readonly item: string;
	readonly name: string;
	/** Pieces before the tap; null when the tap listed it. */
	readonly before: number | null;
}

export function InCompartment({ compartment }: { compartment: Compartment }) {
	const [last, setLast] = useState<Last | null>(null);
	const [fault, setFault] = useState<string | null>(null);
	const here = aboardIn(compartment.key);
	const tap = async (kind: string): Promise<void> => {
		const held = here.find((item) => item.kind === kind && item.name === null);
		const key = held?.key ?? newKey();
		const before = held ? (held.count ?? 1) : null;
		const set = held ? { count: (before ?? 0) + 1 } : listedSet(kind, 1, compartment.key);
		const why = await keepOrSay([{ table: "item", key, set }]);
		setFault(why);
		if (!why) setLast({ item: key, name: kindName(kind), before });
	};
	const undo = async (done: Last): Promise<void> => {
		const set = done.before === null ? { binned: true } : { count: done.before };
		const why = await keepOrSay([{ table: "item", key: done.item, set }]);
		setFault(why);
		if (!why) setLast(null);
	};
	const likely = likelyHere(compartment.name ?? "");
	const recent = recentKinds(new Set(likely.map(([kind]) => kind)));
	return (
		<Screen title={compartment.name ?? "unnamed"} backTo={PATHS.walkRound}>
			<ShootIt compartment={compartment} />
			<div aria-live="polite" class="walk-last">
				{last ? (
					<>
						<span>
							{last.name}: {count((last.before ?? 0) + 1, "piece")}, kept on this phone.
						</span>
						<button type="button" class="button" onClick={() => void undo(last)}>
							Undo
						</button>
					</>
				) : (
					<span class="pencil">A tap lists one piece; another tap one more.</span>
				)}
			</div>
			{fault && (
				<Notice sort="asks" role="alert">
					{fault}
				</Notice>
			)}
			{likely.length > 0 && <h2 class="part-tight">Usually here</h2>}
			<Kinds of={likely} here={here} onTap={(kind) => void tap(kind)} />
			{recent.length > 0 && <h2>Listed last</h2>}
			<Kinds
				of={recent.map((kind) => [kind, 0] as const)}
				here={here}
				onTap={(kind) => void tap(kind)}
			/>
			<Suggest
				label="Another kind"
				value=""
				offersFor={(text) =>
					kindsFor(rules.value?.kinds ?? [], text, 6).map(({ id, name }) => ({ id, label: name }))
				}
				onPick={({ id }) => void tap(id)}
				onText={(text) => {
					if (text)
						setFault(
							`No kind was picked for “${text}”. Pick one of those offered, or list it by name on the compartment's own screen.`,
						);
				}}
			/>
			<section class="part">
				<h2>{here.length === 0 ? "Nothing listed yet" : "Listed here"}</h2>
				<ul class="rows">
					{here.map((item) => (
						<li key={item.key}>
							<a class="row" href={PATHS.item(item.key)}>
								<span class="row-main">{itemName(item, rules.value)}</span>
								<span class="row-count">{count(item.count ?? 1, "piece")}</span>
							</a>
						</li>
					))}
				</ul>
				<div class="buttons">
					<a class="button button-wide" href={PATHS.compartment(compartment.key)}>
						About this compartment
					</a>
				</div>
			</section>
		</Screen>
	);
}

interface KindsProps {
	/** Kind and how many are usual; 0 where nothing is. */
	of: readonly (readonly [kind: string, count: number])[];
	here: readonly Item[];
	onTap: (kind: string) => void;
}

function Kinds({ of, here, onTap }: KindsProps) {
	return (
		<div class="walk-kinds">
			{of.map(([kind, usual]) => {
				const listed = here
					.filter((item) => item.kind === kind)
					.reduce((sum, item) => sum + (item.count ?? 1), 0);
				return (
					<button
						key={kind}
						type="button"
						class="button button-hot walk-kind"
						onClick={() => onTap(kind)}
					>
						<span>{kindName(kind)}</span>
						<span class={listed > 0 ? "walk-listed" : "small pencil"}>
							{listed > 0 ? `${listed} listed` : usual > 0 ? `usually ${usual}` : "none yet"}
						</span>
					</button>
				);
			})}
		</div>
	);
}
