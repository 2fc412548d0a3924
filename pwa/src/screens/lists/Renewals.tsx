/** What to renew: equal specs in one line, lengths with their allowance, grouped by system. */
import { useState } from "preact/hooks";
import type { RenewalLine, RenewalList, RunLength } from "../../domain/contract.ts";
import { shown } from "../../domain/tag.ts";
import { lists } from "../../sync/lists.ts";
import { Growing } from "../../ui/Growing.tsx";
import { Cautions } from "../../ui/Notice.tsx";
import { State } from "../../ui/State.tsx";
import { Code, Unbroken } from "../../ui/Tag.tsx";
import { length } from "../../ui/words.ts";
import { shortSpec, systemName } from "../order/lines.ts";
import { PATHS } from "../paths.ts";
import { ListFrame } from "./ListFrame.tsx";
import { Questions } from "./Questions.tsx";

export function Renewals() {
	const aged = lists.value.renewals;
	return (
		<ListFrame title="Renewals" name="renewals" aged={aged}>
			<div class="buttons">
				<a class="button button-main" href={PATHS.order}>
					The order: prices and steps
				</a>
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
				<a class="button button-quiet" href={PATHS.leftovers}>
					Leftover lengths
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
			<div class="part-tight">
				<Cautions of={list.cautions} />
			</div>
			<Mismatches says={list.mismatches} />
			<Questions questions={list.questions} />
			{systems.map((system) => (
				<section class="part" key={system}>
					<h2>{systemName(system)}</h2>
					<div class="rows">
						{list.lines
							.filter((line) => line.system === system)
							.map((line) => (
								<Line key={line.id} line={line} />
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
					{line.mismatches.length > 0 && <State is="danger">doesn't fit</State>}
					{line.open_questions.length > 0 && <State is="waits">asks</State>}
				</span>
				<span class="mass">
					<span class="strong">{amount(line)}</span>
					<small>{spread(line)}</small>
				</span>
			</summary>
			<div class="inset">
				<div class="buttons">
					<a class="button" href={PATHS.spec(line.id)}>
						Say what to buy
					</a>
					<a class="button" href={PATHS.orderLine(line.id)}>
						Prices and steps
					</a>
				</div>
				{line.mismatches.map((say) => (
					<p key={say} class="small">
						<State is="danger">{say}</State>
					</p>
				))}
				{line.details.map((say) => (
					<p key={say} class="small">
						<Unbroken text={say} />
					</p>
				))}
				{line.open_questions.map((question) => (
					<p key={question} class="small">
						<State is="waits">{question}</State>
					</p>
				))}
				{open && line.runs.length > 0 && <Runs of={line.runs} />}
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

/** What is joined on the boat and doesn't go together, also where it stays. */
function Mismatches({ says }: { says: readonly string[] }) {
	if (says.length === 0) return null;
	return (
		<section class="part">
			<h2>Joined, and doesn't fit</h2>
			{says.map((say) => (
				<p key={say} class="part-tight">
					<State is="danger">{say}</State>
				</p>
			))}
		</section>
	);
}

/** Every run of a line with how its length was got. */
function Runs({ of }: { of: readonly RunLength[] }) {
	return (
		<ul class="run-lengths small">
			<Growing of={of}>
				{(run) => (
					<li key={run.item}>
						<a href={PATHS.item(run.item)}>
							{run.name}
							{run.count > 1 && `, ${run.count} times`}
						</a>
						{lengthOf(run)}
						{run.ends.length > 0 && (
							<span class="row-under">
								<Unbroken text={run.ends.map((end) => end || "an end").join(" – ")} />
							</span>
						)}
					</li>
				)}
			</Growing>
		</ul>
	);
}

function lengthOf({ how, length_mm, low_mm, high_mm }: RunLength): string {
	if (length_mm === null) return "length not known; measure it, or say where its ends were";
	if (how === "measured") return `${length(length_mm)}, measured`;
	const spread = low_mm && high_mm ? ` (${length(low_mm)} to ${length(high_mm)})` : "";
	return `${length(length_mm)}${spread}, ${how}; measure before you cut`;
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
