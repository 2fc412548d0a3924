/** Scrap by metal: what it weighs, what was told of its price, and what to tell the dealer. */
import { useId, useState } from "preact/hooks";
import type { Price, ScrapItem, ScrapList, ScrapMetal, Value } from "../../domain/contract.ts";
import { moneyWords } from "../../domain/money.ts";
import { boat, newKey } from "../../storage/boat.ts";
import { lists } from "../../sync/lists.ts";
import { Under } from "../../ui/Field.tsx";
import { Cautions, Notice } from "../../ui/Notice.tsx";
import { State } from "../../ui/State.tsx";
import { count, sentence } from "../../ui/words.ts";
import { keepOrSay } from "../common/keeping.ts";
import { PATHS } from "../paths.ts";
import { ListFrame } from "./ListFrame.tsx";
import { Mass, MassTotals } from "./Mass.tsx";

export function Scrap() {
	const aged = lists.value.scrap;
	return (
		<ListFrame title="Scrap" name="scrap" aged={aged}>
			{aged ? <ScrapOf list={aged.list} /> : <NoList />}
		</ListFrame>
	);
}

function ScrapOf({ list }: { list: ScrapList }) {
	if (list.metals.length === 0) return <Nothing />;
	return (
		<>
			<Cautions of={list.cautions} />
			<MassTotals total={list.total} weighedShare={list.weighed_share} />
			{list.values.map((value) => (
				<p key={value.currency} class="scrap-worth">
					Worth <b>{money(value)}</b>
					{list.unpriced.length > 0 && `, without ${list.unpriced.join(", ")}`}
				</p>
			))}
			<section class="part">
				<h2>By metal</h2>
				<div class="rows">
					{list.metals.map((metal) => (
						<Metal key={metal.metal} metal={metal} />
					))}
				</div>
			</section>
			<p class="standing-words">
				Prices are what you entered. Local rules and licensed trades come first.
			</p>
		</>
	);
}

function Metal({ metal }: { metal: ScrapMetal }) {
	const price = priceOf(metal.spec);
	const dirty = metal.items.some(({ dirty: said }) => said.length > 0);
	return (
		<details>
			<summary>
				<span class="row-main">
					<span class="row-title">{sentence(metal.metal)}</span>
					<span class="row-under">
						{count(metal.count, "piece")}
						{price?.amount != null && `, ${moneyWords(price.amount, price.currency)} a kilogram`}
					</span>
					{dirty && <State is="waits">some of it soiled or painted</State>}
					{metal.value && <span class="row-under">worth {money(metal.value)}</span>}
				</span>
				<Mass of={metal.mass} />
			</summary>
			<div class="inset">
				<PriceField metal={metal} price={price} />
				{metal.items.map((item) => (
					<Line key={item.key} item={item} />
				))}
			</div>
		</details>
	);
}

function Line({ item }: { item: ScrapItem }) {
	return (
		<div class="row scrap-item">
			<span class="row-main">
				<a class="row-title" href={PATHS.item(item.key)}>
					{item.name}
				</a>
				{item.dirty.map((said) => (
					<State key={said} is="waits">
						{said}
					</State>
				))}
				{item.cautions.map((caution) => (
					<State key={caution} is="danger">
						{caution}
					</State>
				))}
				<span class="row-under">{item.why}</span>
			</span>
			<Mass of={item.mass} />
		</div>
	);
}

/** What a dealer said; kept on the phone, the worth follows with the server's next list. */
function PriceField({ metal, price }: { metal: ScrapMetal; price: Price | null }) {
	const id = useId();
	const [amount, setAmount] = useState(price?.amount == null ? "" : String(price.amount));
	const [currency, setCurrency] = useState(price?.currency ?? usualCurrency());
	const [said, setSaid] = useState<{ sort: "done" | "asks"; words: string } | null>(null);
	const keep = async (event: Event): Promise<void> => {
		event.preventDefault();
		const value = Number(amount.trim().replace(",", "."));
		const code = currency.trim().toUpperCase();
		const wrong =
			amount.trim() === "" || !(value >= 0 && value <= 1_000_000)
				? `“${amount}” is no price: write a number from 0 to 1,000,000, like 6.20.`
				: /^[A-Z]{3}$/.test(code)
					? null
					: `“${currency}” is no currency: write its three letters, like EUR.`;
		if (wrong) return setSaid({ sort: "asks", words: `Not kept, stays as you typed it. ${wrong}` });
		const set = { spec: metal.spec, amount: value, currency: code, per: "kilogram" } as const;
		const fault = await keepOrSay([{ table: "price", key: price?.key ?? newKey(), set }]);
		setSaid(
			fault
				? { sort: "asks", words: fault }
				: { sort: "done", words: "Kept on this phone. The worth follows with the next list." },
		);
	};
	return (
		<form class="field" onSubmit={(event) => void keep(event)}>
			<label class="field-label" for={id}>
				Price of a kilogram of {metal.metal}
			</label>
			<div class="input-row">
				<input
					id={id}
					class="input"
					type="text"
					inputMode="decimal"
					autoComplete="off"
					value={amount}
					aria-describedby={`${id}-under`}
					onInput={(event) => setAmount(event.currentTarget.value)}
				/>
				<input
					class="input scrap-currency"
					type="text"
					autoComplete="off"
					maxLength={3}
					aria-label="Currency, three letters"
					value={currency}
					onInput={(event) => setCurrency(event.currentTarget.value)}
				/>
				<button type="submit" class="button">
					Keep
				</button>
			</div>
			<Under id={`${id}-under`} fault={null} hint="What the dealer told you." />
			{said && (
				<Notice sort={said.sort} role={said.sort === "done" ? "status" : "alert"}>
					{said.words}
				</Notice>
			)}
		</form>
	);
}

function priceOf(spec: string): Price | null {
	const rows = [...boat.table("price").value.values()].filter(
		(row) => row.spec === spec && row.per === "kilogram" && row.amount !== null,
	);
	return rows.sort((a, b) => (a.key < b.key ? 1 : -1))[0] ?? null;
}

/** The currency of the price that was entered last. */
function usualCurrency(): string {
	const rows = [...boat.table("price").value.values()].filter((row) => row.currency !== null);
	return rows.sort((a, b) => (a.key < b.key ? 1 : -1))[0]?.currency ?? "";
}

function money({ low, likely, high, currency }: Value): string {
	const figure = (value: number): string => Math.round(value).toLocaleString("en-GB");
	return Math.round(low) === Math.round(high)
		? `${figure(likely)} ${currency}`
		: `${figure(likely)} ${currency} (${figure(low)} to ${figure(high)})`;
}

function Nothing() {
	return (
		<div class="empty">
			<h2>Nothing to scrap so far</h2>
			<p>Set an item's fate to “scrap”; it is listed here by its metal.</p>
		</div>
	);
}

function NoList() {
	return (
		<div class="empty">
			<h2>No scrap list on this phone yet</h2>
			<p>
				Go where there is a signal and tap “Make it anew”; after that the list is here offline too.
			</p>
		</div>
	);
}
