/** A price with its currency in one field; without one it says so, and offers the usual one. */
import { useState } from "preact/hooks";
import { Unreadable } from "../../domain/measure.ts";
import { moneyWords, NoCurrency, onlyCurrency, parseMoney } from "../../domain/money.ts";
import { boat } from "../../storage/boat.ts";
import { TextField } from "../../ui/Field.tsx";

interface Props {
	amount: number | null;
	currency: string | null;
	label: string;
	onKeep: (amount: number | null, currency: string | null) => void;
}

export function MoneyField({ amount, currency, label, onKeep }: Props) {
	const [bare, setBare] = useState<number | null>(null);
	const usual = onlyCurrency(boat.table("price").value.values());
	const read = (text: string): string | null => {
		setBare(null);
		if (text === "") {
			onKeep(null, currency);
			return null;
		}
		try {
			const money = parseMoney(text);
			onKeep(money.amount, money.currency);
			return null;
		} catch (error) {
			if (error instanceof NoCurrency) setBare(error.amount);
			if (error instanceof Unreadable)
				return `“${text}” was not kept and stays as you typed it: ${error.message}.`;
			throw error;
		}
	};
	return (
		<>
			<TextField
				label={label}
				value={moneyWords(amount, currency)}
				hint="12.50 EUR"
				longest={30}
				onKeep={read}
			/>
			{bare !== null && usual && (
				<div class="buttons">
					<button
						type="button"
						class="button"
						onClick={() => {
							setBare(null);
							onKeep(bare, usual);
						}}
					>
						Keep {moneyWords(bare, usual)}, as your other prices
					</button>
				</div>
			)}
		</>
	);
}
