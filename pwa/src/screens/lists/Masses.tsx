/** Every kilogram: the sum and how much of it was weighed, what to weigh next, each item and why. */
import { useState } from "preact/hooks";
import type { MassGroup, MassLine, MassList, WeighNext } from "../../domain/contract.ts";
import { matches } from "../../domain/search.ts";
import { shown } from "../../domain/tag.ts";
import { boat } from "../../storage/boat.ts";
import { lists } from "../../sync/lists.ts";
import { Choice } from "../../ui/Choice.tsx";
import { Growing } from "../../ui/Growing.tsx";
import { Notice } from "../../ui/Notice.tsx";
import { Code } from "../../ui/Tag.tsx";
import { count, daysInWords, kilograms } from "../../ui/words.ts";
import { PATHS, tankOf } from "../paths.ts";
import { ListFrame } from "./ListFrame.tsx";
import { Mass, MassTotals, rangeWords } from "./Mass.tsx";

export function Masses() {
	const aged = lists.value.masses;
	return (
		<ListFrame title="Masses" name="masses" aged={aged}>
			<div class="buttons">
				<a class="button button-main button-wide button-hot" href={PATHS.weigh()}>
					Weigh something
				</a>
			</div>
			{aged ? <MassesOf list={aged.list} /> : <NoList />}
		</ListFrame>
	);
}

function MassesOf({ list }: { list: MassList }) {
	if (list.items.length === 0) return <Nothing />;
	return (
		<>
			<MassTotals total={list.total} weighedShare={list.weighed_share} />
			<Uncounted list={list} />
			<Next steps={list.weigh_next} />
			<Groups list={list} />
			<Items list={list} />
		</>
	);
}

function Uncounted({ list }: { list: MassList }) {
	if (list.uncounted.length === 0) return null;
	return (
		<section class="part">
			<h2>Not counted</h2>
			{list.uncounted.map(({ weighing, of, name, reason }) => {
				const tank = tankOf(of);
				return (
					<Notice sort="asks" key={weighing || of}>
						<span class="notice-word">{name}. </span>
						{reason} {tank && <a href={PATHS.tank(tank)}>Sound it</a>}
						{of && !tank && <a href={PATHS.weigh(of)}>Weigh it again</a>}
					</Notice>
				);
			})}
		</section>
	);
}

function Next({ steps }: { steps: readonly WeighNext[] }) {
	const held = boat.table("item").value;
	const here = steps.filter(({ key }) => held.has(key));
	if (here.length === 0) return null;
	return (
		<section class="part">
			<h2>Weigh next</h2>
			<p class="part-note">These few would make the sum surest, in this order.</p>
			<ol class="rows weigh-next">
				{here.map(({ key, name, tags, narrower_kg, after }) => (
					<li key={key}>
						<a class="row" href={PATHS.weigh(`item/${key}`)}>
							<span class="row-main">
								<span class="row-title">{name}</span>
								<span class="row-under">
									takes {kilograms(narrower_kg)} off the doubt; then {rangeWords(after)}
								</span>
								{tags[0] && <Code>{shown(tags[0])}</Code>}
							</span>
						</a>
					</li>
				))}
			</ol>
		</section>
	);
}

const SORTS = [
	{ value: "by_basis", label: "How it was got" },
	{ value: "by_system", label: "System" },
	{ value: "by_compartment", label: "Compartment" },
	{ value: "by_whereabouts", label: "Where it is" },
] as const;

type Sort = (typeof SORTS)[number]["value"];

function Groups({ list }: { list: MassList }) {
	const [sort, setSort] = useState<Sort>("by_basis");
	return (
		<section class="part">
			<h2>Sums</h2>
			<Choice
				name="mass-sort"
				legend="Added up by"
				wrap
				options={SORTS}
				value={sort}
				onChange={(next) => setSort(next ?? "by_basis")}
			/>
			<div class="rows mass-rows">
				{list[sort].map((group) => (
					<Group key={group.key} group={group} />
				))}
			</div>
		</section>
	);
}

function Group({ group }: { group: MassGroup }) {
	const share = Math.round(group.weighed_share * 100);
	return (
		<div class="row">
			<span class="row-main">
				<span class="row-title">{groupName(group)}</span>
				<span class="row-under">
					{count(group.count, "piece")}
					{share > 0 && share < 100 ? `, ${share} % weighed` : ""}
				</span>
			</span>
			<Mass of={group.mass} />
		</div>
	);
}

const BASIS_WORDS: Readonly<Record<string, string>> = {
	weighed: "Weighed",
	plate: "Read off a plate",
	calculated: "Calculated from sizes",
	guessed: "Guessed",
	aboard: "Aboard",
	ashore: "Ashore",
	gone: "Gone",
};

function groupName({ key, name, path }: MassGroup): string {
	return BASIS_WORDS[key] ?? (path.length > 0 ? path.join(", ") : name);
}

function Items({ list }: { list: MassList }) {
	const [text, setText] = useState("");
	const words = text.trim();
	const found = words ? list.items.filter(({ name }) => matches(words, name)) : list.items;
	return (
		<section class="part">
			<h2>Every item, the heaviest first</h2>
			<label class="field">
				<span class="field-label">Only those called</span>
				<input
					class="input"
					type="search"
					autoComplete="off"
					value={text}
					onInput={(event) => setText(event.currentTarget.value)}
				/>
			</label>
			<div class="rows">
				<Growing of={found}>
					{(line) => (
						<Line key={line.key} line={line} why={daysInWords(list.whys[line.why] ?? "")} />
					)}
				</Growing>
			</div>
		</section>
	);
}

function Line({ line, why }: { line: MassLine; why: string }) {
	return (
		<details>
			<summary>
				<span class="row-main">
					<span class="row-title">{line.name}</span>
					{line.count > 1 && <span class="row-under">{count(line.count, "piece")}</span>}
				</span>
				<Mass of={line.mass} />
			</summary>
			<div class="inset">
				<p class="small">{why}</p>
				{line.not_used && <Notice sort="asks">{line.not_used}</Notice>}
				<div class="buttons">
					{!tankOf(line.key) && (
						<a class="button" href={PATHS.weigh(`item/${line.key}`)}>
							Weigh it
						</a>
					)}
					<a class="button" href={PATHS.line(line.key)}>
						{tankOf(line.key) ? "Show the tank" : "Show the item"}
					</a>
				</div>
			</div>
		</details>
	);
}

function Nothing() {
	return (
		<div class="empty">
			<h2>Nothing to add up yet</h2>
			<p>List what is aboard, or take the first item out.</p>
		</div>
	);
}

function NoList() {
	return (
		<div class="empty">
			<h2>No list of masses on this phone yet</h2>
			<p>
				Weighing works without it. For the sums go where there is a signal and tap “Make it anew”;
				after that the list is here offline too.
			</p>
		</div>
	);
}
