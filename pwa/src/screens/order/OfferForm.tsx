/** A price that somebody was quoted for a line: a reel of a length, a metre, or a piece. */
import { useState } from "preact/hooks";
import type { OrderLine, Price } from "../../domain/contract.ts";
import { boat } from "../../storage/boat.ts";
import { SelectField, TextField } from "../../ui/Field.tsx";
import { Notice } from "../../ui/Notice.tsx";
import { keepOrSay } from "../common/keeping.ts";
import { NumberField } from "../tank/NumberField.tsx";

export function OfferForm({ line, newKey }: { line: OrderLine; newKey: () => string }) {
	const [said, setSaid] = useState<string | null>(null);
	const offers = [...boat.table("price").value.values()].filter(({ spec }) => spec === line.id);
	const keep = async (key: string, set: Partial<Omit<Price, "key">>): Promise<void> => {
		setSaid(await keepOrSay([{ table: "price", key, set }]));
	};
	const add = (): void => {
		const per = line.order_mm === null ? "each" : "reel";
		void keep(newKey(), { spec: line.id, per });
	};
	return (
		<section class="part">
			<h3>Prices you were quoted</h3>
			{offers.map((offer) => (
				<Offer key={offer.key} offer={offer} isRun={line.order_mm !== null} keep={keep} />
			))}
			{said && (
				<Notice sort="asks" role="alert">
					{said}
				</Notice>
			)}
			<button type="button" class="button" onClick={add}>
				Add a price
			</button>
		</section>
	);
}

interface OfferProps {
	offer: Price;
	isRun: boolean;
	keep: (key: string, set: Partial<Omit<Price, "key">>) => Promise<void>;
}

function Offer({ offer, isRun, keep }: OfferProps) {
	const set = (values: Partial<Omit<Price, "key">>): void => void keep(offer.key, values);
	return (
		<fieldset class="part">
			<legend class="strong">{offer.supplier ?? "A price"}</legend>
			<TextField
				label="Supplier"
				value={offer.supplier ?? ""}
				longest={200}
				onKeep={(supplier) => {
					set({ supplier: supplier || null });
					return null;
				}}
			/>
			{isRun && (
				<SelectField
					label="Sold by the"
					value={offer.per ?? "reel"}
					onChange={(per) => set({ per: per as Price["per"] })}
				>
					<option value="reel">reel or length</option>
					<option value="metre">metre, cut to length</option>
				</SelectField>
			)}
			{isRun && offer.per !== "metre" && (
				<NumberField
					label="Length of the reel, m"
					value={offer.length_mm === null ? null : offer.length_mm / 1000}
					high={2000}
					onKeep={(metres) => set({ length_mm: metres === null ? null : metres * 1000 })}
				/>
			)}
			<div class="pair-of-fields">
				<NumberField
					label="Price"
					value={offer.amount}
					high={1_000_000}
					onKeep={(amount) => set({ amount })}
				/>
				<TextField
					label="Currency"
					value={offer.currency ?? ""}
					longest={3}
					onKeep={(text) => {
						const code = text.toUpperCase();
						if (code !== "" && !/^[A-Z]{3}$/.test(code))
							return `“${text}” was not kept and stays as you typed it: write three letters, like EUR.`;
						set({ currency: code || null });
						return null;
					}}
				/>
			</div>
			<button type="button" class="button" onClick={() => set({ binned: true })}>
				Take this price away
			</button>
		</fieldset>
	);
}
