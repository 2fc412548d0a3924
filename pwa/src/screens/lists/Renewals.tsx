/** What to renew: equal specs in one line, lengths with their allowance, grouped by system. */
import { useState } from "preact/hooks";
import type { RenewalLine, RenewalList } from "../../domain/contract.ts";
import { shown } from "../../domain/tag.ts";
import { rules } from "../../storage/rules.ts";
import { lists } from "../../sync/lists.ts";
import { Growing } from "../../ui/Growing.tsx";
import { Cautions } from "../../ui/Notice.tsx";
import { State } from "../../ui/State.tsx";
import { Code } from "../../ui/Tag.tsx";
import { length } from "../../ui/words.ts";
import { PATHS } from "../paths.ts";
import { ListFrame } from "./ListFrame.tsx";
import { Questions } from "./Questions.tsx";

export function Renewals() {
	const aged = lists.value.renewals;
	return (
		<ListFrame title="Renewals" name="renewals" aged={aged}>
			<div class="buttons">
				<a class="button" href={PATHS.circuits}>
					How thick each wire must be
				</a>
			</div>
			{aged ? <RenewalsOf list={aged.list} /> : <NoList />}
			<p class="buttons">
				<a class="button button-quiet" href={PATHS.piping}>
					Piping as it was
				</a>
				<a class="button button-quiet" href={PATHS.wiring}>
					Wiring as it was
				</a>
			</p>
		</ListFrame>
	);
}

function RenewalsOf({ list }: { list: RenewalList }) {
	if (list.lines.length === 0) return <NothingToRenew />;
	const systems = [...new Set(list.lines.map((line) => line.system))];
	return (
		<>
			<Cautions of={list.cautions} />
			<p>
				<a class="button" href={PATHS.order}>
					The order: prices, cuts, what is bought
				</a>
			</p>
			<Questions questions={list.questions} />
			{systems.map((system) => (
				<section class="part" key={system}>
					<h2>{rules.value?.systems.find(({ id }) => id === system)?.name ?? system}</h2>
					<div class="rows">
						{list.lines
							.filter((line) => line.system === system)
							.map((line) => (
								<Line key={line.spec} line={line} />
							))}
					</div>
				</section>
			))}
		</>
	);
}

function Line({ line }: { line: RenewalLine }) {
	const [open, setOpen] = useState(false);
	return (
		<details open={open} onToggle={(event) => setOpen(event.currentTarget.open)}>
			<summary>
				<span class="row-main">
					<span class="row-title">{shortSpec(line)}</span>
					{line.standard && <span class="row-under">{line.standard}</span>}
					{line.open_questions.length > 0 && <State is="waits">asks</State>}
				</span>
				<span class="mass">
					<span class="strong">{amount(line)}</span>
					<small>{spread(line)}</small>
				</span>
			</summary>
			<div class="inset">
				{line.open_questions.map((question) => (
					<p key={question} class="small">
						<State is="waits">{question}</State>
					</p>
				))}
				<p class="tag-line">
					{open && (
						<Growing of={line.tags}>
							{(code) => (
								<a key={code} href={PATHS.tag(code)} class="tag-link">
									<Code>{shown(code)}</Code>
								</a>
							)}
						</Growing>
					)}
				</p>
			</div>
		</details>
	);
}

/** What to ask for; the standard that it must meet stands under it. */
function shortSpec({ spec, standard }: RenewalLine): string {
	return standard && spec.endsWith(`, ${standard}`) ? spec.slice(0, -standard.length - 2) : spec;
}

function amount({ order_mm, count }: RenewalLine): string {
	return order_mm === null ? `${count}` : length(order_mm);
}

function spread({ order_mm, length_mm, allowance, count }: RenewalLine): string {
	if (order_mm === null) return count === 1 ? "piece" : "pieces";
	const runs = count === 1 ? "1 run" : `${count} runs`;
	if (length_mm === null) return runs;
	return `${runs}, ${length(length_mm)} + ${Math.round(allowance * 100)} %`;
}

function NothingToRenew() {
	return (
		<div class="empty">
			<h2>Nothing to renew so far</h2>
			<p>Set an item's fate to “renew”, or its kind to one that is always renewed, like a hose.</p>
		</div>
	);
}

function NoList() {
	return (
		<div class="empty">
			<h2>No renewals list on this phone yet</h2>
			<p>
				Go where there is a signal and tap “Make it anew”; after that the list is here offline too.
			</p>
		</div>
	);
}
