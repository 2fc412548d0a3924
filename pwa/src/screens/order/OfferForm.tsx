/** The prices that somebody was quoted for a line: by the reel, metre, piece or pack; one is taken. */
import { useState } from "preact/hooks";
import type { OrderLine, Price } from "../../domain/contract.ts";
import { moneyWords } from "../../domain/money.ts";
import { mixedMoney, offerAsks, perOf, tooLong } from "../../domain/offers.ts";
import { boat, newKey } from "../../storage/boat.ts";
import { SelectField, TextField } from "../../ui/Field.tsx";
import { Notice } from "../../ui/Notice.tsx";
import { State } from "../../ui/State.tsx";
import { keepOrSay } from "../common/keeping.ts";
import { LengthField } from "../common/LengthField.tsx";
import { isRun, offersFor, renewalLine, shortSpec } from "./lines.ts";
import { MoneyField } from "./MoneyField.tsx";

type SetOffer = (values: Partial<Omit<Price, "key">>) => void;

const LONGEST_REEL_MM = 2_000_000;

export function OfferForm({ line }: { line: OrderLine }) {
	const [said, setSaid] = useState<string | null>(null);
	const [fresh, setFresh] = useState<string | null>(null);
	const run = isRun(line);
	const offers = offersFor(line.id);
	const taken = boat.table("purchase").value.get(line.id)?.from_price ?? null;
	const keep = async (key: string, set: Partial<Omit<Price, "key">>): Promise<void> => {
		setSaid(await keepOrSay([{ table: "price", key, set }]));
	};
	const take = async (from_price: string | null): Promise<void> => {
		const set = { line: shortSpec(line).slice(0, 200), from_price };
		setSaid(await keepOrSay([{ table: "purchase", key: line.id, set }]));
	};
	const add = (): void => {
		const key = newKey();
		setFresh(key);
		void keep(key, { spec: line.id, per: run ? "reel" : "each" });
	};
	const mixed = mixedMoney(offers, taken, run);
	const long = run ? tooLong(renewalLine(line.id)?.runs ?? [], offers) : null;
	return (
		<section class="part">
			<h2>Prices you were quoted</h2>
			{said && (
				<Notice sort="asks" role="alert">
					{said}
				</Notice>
			)}
			{mixed && <Notice sort="asks">{mixed}</Notice>}
			{long && <Notice sort="asks">{long}</Notice>}
			<div class="rows">
				{offers.map((offer) => (
					<Offer
						key={offer.key}
						offer={offer}
						run={run}
						open={offer.key === fresh}
						taken={offer.key === taken}
						set={(values) => void keep(offer.key, values)}
						take={(on) => void take(on ? offer.key : null)}
					/>
				))}
			</div>
			<div class="buttons">
				<button type="button" class="button" onClick={add}>
					Add a price
				</button>
			</div>
		</section>
	);
}

interface OfferProps {
	offer: Price;
	run: boolean;
	open: boolean;
	taken: boolean;
	set: SetOffer;
	take: (on: boolean) => void;
}

function Offer({ offer, run, open, taken, set, take }: OfferProps) {
	const asks = offerAsks(offer, run);
	return (
		<details open={open}>
			<summary>
				<span class="row-main">
					<span class="row-title">{offer.supplier ?? "Supplier not written"}</span>
					<span class="row-under">{offerWords(offer, run)}</span>
					{taken && <State is="out">Taken</State>}
					{asks && <State is="waits">{asks}</State>}
				</span>
			</summary>
			<div class="inset">
				<OfferFields offer={offer} run={run} set={set} />
				<div class="buttons">
					<button type="button" class="button" aria-pressed={taken} onClick={() => take(!taken)}>
						{taken ? "✓ You take this one" : "Take this one"}
					</button>
					<button type="button" class="button button-quiet" onClick={() => set({ binned: true })}>
						Put it in the bin
					</button>
				</div>
			</div>
		</details>
	);
}

function OfferFields({ offer, run, set }: Pick<OfferProps, "offer" | "run" | "set">) {
	const per = perOf(offer, run);
	return (
		<>
			<TextField
				label="Supplier"
				value={offer.supplier ?? ""}
				longest={200}
				onKeep={(supplier) => void set({ supplier: supplier || null })}
			/>
			<SelectField
				label="Sold by the"
				value={per}
				onChange={(chosen) => set({ per: chosen as Price["per"] })}
			>
				{(run ? BY_LENGTH : BY_PIECE).map(([value, word]) => (
					<option key={value} value={value}>
						{word}
					</option>
				))}
			</SelectField>
			{per === "reel" && (
				<LengthField
					label="Length of the reel"
					mm={offer.length_mm}
					hint="30 m, 100 ft"
					mostMm={LONGEST_REEL_MM}
					onKeep={(length_mm) => set({ length_mm })}
				/>
			)}
			{per === "pack" && (
				<TextField
					label="Pieces in a pack"
					inputMode="numeric"
					value={offer.pieces === null ? "" : String(offer.pieces)}
					onKeep={(text) => {
						if (text !== "" && !/^[1-9]\d{0,4}$/.test(text))
							return `“${text}” was not kept and stays as you typed it: write a whole number of pieces, like 10.`;
						set({ pieces: text === "" ? null : Number(text) });
						return null;
					}}
				/>
			)}
			<MoneyField
				label={`Price of a ${WORDS[per] ?? per}, with its currency`}
				amount={offer.amount}
				currency={offer.currency}
				onKeep={(amount, currency) => set({ amount, currency })}
			/>
		</>
	);
}

const BY_LENGTH = [
	["reel", "reel, or length"],
	["metre", "metre, cut to length"],
	["each", "piece, made up"],
] as const;
const BY_PIECE = [
	["each", "piece"],
	["pack", "pack"],
] as const;
const WORDS: Readonly<Record<string, string>> = { each: "piece" };

/** `44.00 EUR for a reel of 5 m`. */
function offerWords(offer: Price, run: boolean): string {
	const per = perOf(offer, run);
	const price = moneyWords(offer.amount, offer.currency) || "no price";
	if (per === "reel")
		return `${price} for a reel${offer.length_mm ? ` of ${Number((offer.length_mm / 1000).toFixed(3))} m` : ""}`;
	if (per === "pack") return `${price} for a pack${offer.pieces ? ` of ${offer.pieces}` : ""}`;
	return `${price} a ${WORDS[per] ?? per}`;
}
