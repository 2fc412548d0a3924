/** The order: what to buy, bought, arrived, fitted; steps and prices are kept on the phone at once. */
import { useState } from "preact/hooks";
import type { Step } from "../../domain/buying.ts";
import type { OrderLine, OrderList } from "../../domain/contract.ts";
import { boat } from "../../storage/boat.ts";
import { lists } from "../../sync/lists.ts";
import { Choice } from "../../ui/Choice.tsx";
import { Growing } from "../../ui/Growing.tsx";
import { Cautions } from "../../ui/Notice.tsx";
import { State, type StateName } from "../../ui/State.tsx";
import { amount, count, sentence } from "../../ui/words.ts";
import { ListFrame } from "../lists/ListFrame.tsx";
import { PATHS } from "../paths.ts";
import { leftoverWords } from "./Leftovers.tsx";
import { asksOf, costWords, piecesOf, shortSpec, stateOn, systemName } from "./lines.ts";
import { NextStep } from "./StepButtons.tsx";

type By = "system" | "supplier" | "step";

export function Order() {
	const aged = lists.value.order;
	return (
		<ListFrame title="Order" name="order" aged={aged} printing={<Papers />}>
			{aged && aged.list.lines.length > 0 ? (
				<Lines list={aged.list} />
			) : (
				<p class="part-note">
					Nothing to order on this phone yet. Set an item's fate to “renew”; the list comes with the
					next answer of the server.
				</p>
			)}
		</ListFrame>
	);
}

function Lines({ list }: { list: OrderList }) {
	const [by, setBy] = useState<By>("system");
	const groups = new Map<string, OrderLine[]>();
	for (const line of list.lines) {
		const name = nameOf(line, by);
		groups.set(name, [...(groups.get(name) ?? []), line]);
	}
	return (
		<>
			<Cautions of={list.cautions} />
			<Sums list={list} />
			<div class="buttons">
				<a class="button" href={PATHS.leftovers}>
					{leftoverWords()}
				</a>
			</div>
			<Choice
				name="order-by"
				legend="By"
				options={[
					{ value: "system", label: "System" },
					{ value: "supplier", label: "Supplier" },
					{ value: "step", label: "How far" },
				]}
				value={by}
				onChange={(next) => setBy(next ?? "system")}
			/>
			{[...groups].sort(by === "step" ? bySteps : keepOrder).map(([name, lines]) => (
				<section class="part" key={name}>
					<h2>{name}</h2>
					<div class="rows">
						<Growing of={lines}>{(line) => <Line key={line.id} line={line} />}</Growing>
					</div>
				</section>
			))}
		</>
	);
}

/** Money by currency, each for itself, and what is in no sum. */
function Sums({ list }: { list: OrderList }) {
	return (
		<section class="part-tight">
			<dl class="facts">
				{list.totals.map(({ currency, to_buy, bought }) => (
					<>
						<dt key={currency}>{currency}</dt>
						<dd key={`${currency} sums`}>
							{amount(to_buy)} still to buy
							<span class="row-under">{amount(bought)} bought</span>
						</dd>
					</>
				))}
			</dl>
			{list.totals.length > 1 && (
				<p class="part-note">Nothing is added across currencies: each stands for itself.</p>
			)}
			{list.unpriced > 0 && (
				<p class="part-note">
					{count(list.unpriced, "line")} without a price that can be reckoned with, in no sum.
				</p>
			)}
		</section>
	);
}

function Line({ line }: { line: OrderLine }) {
	const state = stateOn(line);
	const asks = asksOf(line).length;
	return (
		<div class="row">
			<span class="row-main">
				<a class="row-title" href={PATHS.orderLine(line.id)}>
					{shortSpec(line)}
				</a>
				<span class="row-under">
					{piecesOf(line)}, {costWords(line)}
				</span>
				<State is={SIGNS[state]}>{sentence(state)}</State>
				{asks > 0 && state === "to buy" && (
					<span class="row-under">{count(asks, "thing")} to look at first</span>
				)}
			</span>
			<NextStep line={line} />
		</div>
	);
}

const SIGNS: Readonly<Record<Step, StateName>> = {
	"to buy": "plain",
	bought: "waits",
	arrived: "waits",
	fitted: "out",
};
const STEPS = ["To buy", "Bought", "Arrived", "Fitted"];

function nameOf(line: OrderLine, by: By): string {
	if (by === "system") return systemName(line.system);
	return by === "supplier" ? supplierOf(line) : sentence(stateOn(line));
}

function bySteps([one]: [string, unknown], [other]: [string, unknown]): number {
	return STEPS.indexOf(one) - STEPS.indexOf(other);
}

function keepOrder(): number {
	return 0;
}

function supplierOf(line: OrderLine): string {
	return (
		boat.table("purchase").value.get(line.id)?.supplier ||
		line.supplier ||
		// A list that was kept before the server named them has none.
		line.sellers?.join(" and ") ||
		"Supplier not chosen"
	);
}

function Papers() {
	const base = `/api/boats/${boat.key.value}/lists`;
	const papers = [
		["order.pdf", "Order (PDF)"],
		["order-by-supplier.pdf", "By supplier (PDF)"],
		["cutting.pdf", "Cutting sheet (PDF)"],
		["order.csv", "Table (CSV)"],
		["order.xlsx", "Workbook (XLSX)"],
	] as const;
	return (
		<section class="part">
			<h2>Print</h2>
			<div class="buttons">
				{papers.map(([path, word]) => (
					<a key={path} class="button" href={`${base}/${path}`} target="_blank" rel="noreferrer">
						{word}
					</a>
				))}
			</div>
			<p class="part-note">The server prints, so this needs a connection to it.</p>
		</section>
	);
}
