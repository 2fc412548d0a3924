/** The order: what to buy, bought, arrived, fitted; steps and prices are kept on the phone at once. */
import { useState } from "preact/hooks";
import type { CutSheet, OrderLine, OrderList, SheetStock } from "../../domain/contract.ts";
import { shown } from "../../domain/tag.ts";
import { boat, newKey } from "../../storage/boat.ts";
import { rules } from "../../storage/rules.ts";
import { lists } from "../../sync/lists.ts";
import { Choice } from "../../ui/Choice.tsx";
import { Notice } from "../../ui/Notice.tsx";
import { State } from "../../ui/State.tsx";
import { Code } from "../../ui/Tag.tsx";
import { keepOrSay } from "../common/keeping.ts";
import { ListFrame } from "../lists/ListFrame.tsx";
import { OfferForm } from "./OfferForm.tsx";
import { type Step, stateOf, stepped } from "./steps.ts";

type By = "system" | "supplier";

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
		const name = by === "system" ? systemName(line.system) : supplierOf(line);
		groups.set(name, [...(groups.get(name) ?? []), line]);
	}
	return (
		<>
			{list.totals.map((total) => (
				<p key={total.currency}>
					<b>{total.currency}</b>: {total.to_buy.toFixed(2)} still to buy, {total.bought.toFixed(2)}{" "}
					bought.
				</p>
			))}
			{list.unpriced > 0 && (
				<p class="part-note">{list.unpriced} without a price: they are in no sum.</p>
			)}
			<Choice
				name="order-by"
				legend="By"
				options={[
					{ value: "system", label: "System" },
					{ value: "supplier", label: "Supplier" },
				]}
				value={by}
				onChange={(next) => setBy(next ?? "system")}
			/>
			{[...groups].map(([name, lines]) => (
				<section class="part" key={name}>
					<h2>{name}</h2>
					<div class="rows">
						{lines.map((line) => (
							<Line key={line.id} line={line} />
						))}
					</div>
				</section>
			))}
		</>
	);
}

function Line({ line }: { line: OrderLine }) {
	const [open, setOpen] = useState(false);
	const [said, setSaid] = useState<string | null>(null);
	const state = stateOf(boat.table("purchase").value.get(line.id));
	const step = async (to: Step): Promise<void> => {
		const set = stepped(to, new Date().toISOString(), line.count, line.spec.slice(0, 200));
		setSaid(await keepOrSay([{ table: "purchase", key: line.id, set }]));
	};
	return (
		<details open={open} onToggle={(event) => setOpen(event.currentTarget.open)}>
			<summary>
				<span class="row-main">
					<span class="row-title">{line.spec}</span>
					<State is={state === "fitted" ? "out" : state === "to buy" ? "plain" : "waits"}>
						{state}
					</State>
				</span>
				<span class="mass">
					<span class="strong">{line.cost === null ? "no price" : line.cost.toFixed(2)}</span>
					<small>{line.cost === null ? pieces(line) : `${line.currency}, ${pieces(line)}`}</small>
				</span>
			</summary>
			{open && (
				<div class="inset">
					<Choice
						name={`step-${line.id}`}
						legend="How far it is"
						wrap
						options={[
							{ value: "to buy", label: "To buy" },
							{ value: "bought", label: "Bought" },
							{ value: "arrived", label: "Arrived" },
							{ value: "fitted", label: "Fitted" },
						]}
						value={state}
						onChange={(to) => void step(to ?? "to buy")}
					/>
					{said && (
						<Notice sort="asks" role="alert">
							{said}
						</Notice>
					)}
					{line.asks.map((ask) => (
						<p class="small" key={ask}>
							<State is="waits">{ask}</State>
						</p>
					))}
					{line.substitute && <p class="small">Or in its place: {line.substitute}</p>}
					{line.cut && <Cut cut={line.cut} />}
					<OfferForm line={line} newKey={newKey} />
				</div>
			)}
		</details>
	);
}

function Cut({ cut }: { cut: CutSheet }) {
	return (
		<section class="part">
			<h3>How it is cut</h3>
			<p class="small">{proof(cut)}</p>
			{cut.stock.map((one, at) => (
				<Reel key={at} one={one} />
			))}
			{cut.by_metre.map((piece, at) => (
				<p class="small" key={`${piece.item} ${at}`}>
					{piece.name}: {metres(piece.length_mm)} cut to length by the seller
				</p>
			))}
		</section>
	);
}

function Reel({ one }: { one: SheetStock }) {
	return (
		<>
			<p class="strong">
				{metres(one.length_mm)}
				{one.from_shed ? ", lies in the shed" : one.name && `, ${one.name}`}
			</p>
			<ol class="small">
				{one.pieces.map((piece, at) => (
					<li key={`${piece.item} ${at}`}>
						{metres(piece.length_mm)} for {piece.name}{" "}
						{piece.tags[0] && <Code>{shown(piece.tags[0])}</Code>}
					</li>
				))}
			</ol>
			<p class="small">Left over: {metres(one.left_mm)}.</p>
		</>
	);
}

function proof(cut: CutSheet): string {
	if (cut.cost === null || cut.bound === null)
		return cut.proven ? "No shorter purchase is possible." : "A shorter purchase may be possible.";
	const least = `${cut.bound.toFixed(2)} ${cut.currency}`;
	if (cut.proven) return `No plan costs less than ${least}: this is the cheapest.`;
	const gap = cut.bound > 0 ? (100 * (cut.cost - cut.bound)) / cut.bound : 0;
	return `No plan costs less than ${least}: this one is at most ${gap.toFixed(1)} % dearer.`;
}

function metres(mm: number): string {
	return `${(mm / 1000).toFixed(2)} m`;
}

function pieces({ order_mm, count }: OrderLine): string {
	if (order_mm !== null) return metres(order_mm);
	return count === 1 ? "1 piece" : `${count} pieces`;
}

function systemName(id: string): string {
	return rules.value?.systems.find((system) => system.id === id)?.name ?? (id || "No system");
}

function supplierOf(line: OrderLine): string {
	return (
		line.supplier || line.offers.find((offer) => offer.usable)?.supplier || "Supplier not chosen"
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
