/** Left to take out: counted on this phone, drawn on the boat, by compartment and by system. */
import { useState } from "preact/hooks";
import type { Item } from "../../domain/contract.ts";
import { kindOf, systemOf } from "../../domain/names.ts";
import {
	isToTakeOut,
	type Tally,
	tallyByCompartment,
	tallyBySystem,
	tallyOf,
} from "../../domain/recount.ts";
import { flatten, pathOf } from "../../domain/tree.ts";
import { boat } from "../../storage/boat.ts";
import { rules } from "../../storage/rules.ts";
import { lists } from "../../sync/lists.ts";
import { Choice } from "../../ui/Choice.tsx";
import { NO_COMPARTMENT } from "../common/ItemTag.tsx";
import { PATHS } from "../paths.ts";
import { waits } from "../work/open.ts";
import { Group, type Known } from "./Group.tsx";
import { LeftDrawing } from "./LeftDrawing.tsx";
import { ListFrame } from "./ListFrame.tsx";

interface GroupOf {
	readonly key: string;
	readonly name: string;
	readonly under: string;
	readonly tally: Tally;
}

export function Left() {
	const [by, setBy] = useState<"compartment" | "system">("compartment");
	const [open, setOpen] = useState<string | null>(null);
	const [allOut, setAllOut] = useState(false);
	const items = [...boat.table("item").value.values()];
	const known = knownItems(items);
	const tally = tallyOf(items);
	const ready = tallyOf(items.filter(({ key }) => known.get(key)?.ready)).left;
	const groups = by === "compartment" ? compartmentGroups() : systemGroups();
	const done = groups.filter(({ tally: of }) => of.left === 0).length;
	const show = (key: string): void => {
		setBy("compartment");
		if (groups.some((group) => group.key === key && group.tally.left === 0)) setAllOut(true);
		setOpen(key);
		requestAnimationFrame(() =>
			document.getElementById(`group-${key}`)?.scrollIntoView({ block: "start" }),
		);
	};
	if (items.length === 0) return <NothingYet />;
	return (
		<ListFrame title="Left to take out" name="left" aged={lists.value.left}>
			<dl class="totals">
				<Total name="pieces left aboard" value={tally.left} />
				<Total name="pieces out" value={tally.out} />
				{known.size > 0 && <Total name="pieces ready now" value={ready} />}
			</dl>
			<LeftDrawing known={known} onTap={show} />
			<Choice
				name="left-by"
				legend="Order by"
				options={[
					{ value: "compartment", label: "Compartment" },
					{ value: "system", label: "System" },
				]}
				value={by}
				onChange={(next) => setBy(next ?? "compartment")}
			/>
			<div class="rows part-tight">
				{(allOut ? groups : groups.filter(({ tally: of }) => of.left > 0)).map((group) => (
					<Group
						key={group.key}
						id={`group-${group.key}`}
						name={group.name}
						under={group.under}
						tally={group.tally}
						open={open === group.key}
						onToggle={(now) => setOpen(now ? group.key : null)}
						items={open === group.key ? items.filter(isLeftIn(by, group.key)) : []}
						known={known}
					/>
				))}
			</div>
			{done > 0 && !allOut && (
				<button type="button" class="button button-wide part-tight" onClick={() => setAllOut(true)}>
					Show {done} more that are all out
				</button>
			)}
		</ListFrame>
	);
}

const NONE = "none";

/** What a group opens to. */
function isLeftIn(by: "compartment" | "system", group: string): (item: Item) => boolean {
	const groupOf = (item: Item): string | null =>
		by === "compartment" ? item.compartment : systemOf(item, rules.value);
	return (item) => isToTakeOut(item) && (groupOf(item) ?? NONE) === group;
}

function Total({ name, value }: { name: string; value: number }) {
	return (
		<div>
			<dt>{name}</dt>
			<dd>{value}</dd>
		</div>
	);
}

function NothingYet() {
	return (
		<ListFrame title="Left to take out" name="left" aged={lists.value.left}>
			<div class="empty">
				<h2>Nothing is listed yet</h2>
				<p>Walk round the boat and list what is aboard, or just begin to take out.</p>
				<div class="buttons">
					<a class="button button-main" href={PATHS.walkRound}>
						Walk round
					</a>
					<a class="button" href={PATHS.takeOut}>
						Take out
					</a>
				</div>
			</div>
		</ListFrame>
	);
}

/** What each item aboard waits for, worked out here; the server's cautions with it. */
function knownItems(items: readonly Item[]): ReadonlyMap<string, Known> {
	const groups = lists.value.left?.list.by_system ?? [];
	const said = new Map(
		groups.flatMap((group) => group.items.map((row) => [row.key, row] as const)),
	);
	const waiting = waits();
	if (!waiting) return said;
	return new Map(
		items
			.filter((item) => isToTakeOut(item))
			.map((item) => {
				const waits_for = waiting.of(`item/${item.key}`);
				const cautions = said.get(item.key)?.cautions ?? kindOf(item, rules.value)?.cautions ?? [];
				return [item.key, { ready: waits_for.length === 0, waits_for, cautions }];
			}),
	);
}

function compartmentGroups(): GroupOf[] {
	const tallies = tallyByCompartment(boat.table("item").value.values());
	const compartments = boat.table("compartment").value;
	const groups = flatten(compartments, byStation).map(({ node }) => ({
		key: node.key,
		name: node.name ?? "unnamed",
		under: pathOf(compartments, node.within).join(", "),
		tally: tallies.get(node.key),
	}));
	const known = new Set(groups.map(({ key }) => key));
	for (const [key, tally] of tallies)
		if (key === null || !known.has(key))
			groups.push({ key: key ?? NONE, name: NO_COMPARTMENT, under: "", tally });
	return groups.filter((group): group is GroupOf => group.tally !== undefined);
}

function systemGroups(): GroupOf[] {
	const tallies = tallyBySystem(boat.table("item").value.values(), rules.value);
	const systems = rules.value?.systems ?? [];
	const groups: GroupOf[] = [];
	for (const { id, name } of systems) {
		const tally = tallies.get(id);
		if (tally) groups.push({ key: id, name, under: "", tally });
	}
	const rest = tallies.get(null);
	if (rest) groups.push({ key: NONE, name: "No system yet", under: "", tally: rest });
	return groups;
}

function byStation(a: { from_m: number | null }, b: { from_m: number | null }): number {
	return (a.from_m ?? Number.POSITIVE_INFINITY) - (b.from_m ?? Number.POSITIVE_INFINITY) || 0;
}
