/** A price as people write it, always with its currency: `12.50 EUR`, `€ 12,50`, `GBP 8`. */
import { Unreadable } from "./unreadable.ts";

export interface Money {
	readonly amount: number;
	/** ISO 4217. */
	readonly currency: string;
}

/** A price with nothing to say of what money it is; `amount` is what was read. */
export class NoCurrency extends Unreadable {
	readonly amount: number;
	constructor(text: string, amount: number) {
		super(`${text} has no currency: write it behind the price, like ${text} EUR`);
		this.amount = amount;
	}
}

const MOST = 1_000_000;
const SIGNS: Readonly<Record<string, string>> = { "€": "EUR", "£": "GBP" };
const PRICE = /^(?:([a-z]{3}|[€£$])\s*)?([0-9]+(?:[.,][0-9]+)?)\s*([a-z]{3}|[€£$])?$/i;

/** Throws Unreadable, and NoCurrency where only that is missing. */
export function parseMoney(text: string): Money {
	const found = PRICE.exec(text.trim());
	const [, before, number = "", behind] = found ?? [];
	if (!found || (before && behind))
		throw new Unreadable(
			`${text.trim()} is no price: write a number and a currency, like 12.50 EUR`,
		);
	if (/^[0-9]{1,3}[.,][0-9]{3}$/.test(number)) {
		const [decimal, plain] = [number.replace(",", "."), number.replace(/[.,]/, "")];
		throw new Unreadable(
			`${number} can mean ${Number(decimal)} or ${plain}: write the one you mean`,
		);
	}
	const amount = Number(number.replace(",", "."));
	if (amount > MOST) throw new Unreadable(`${number} is more than ${MOST}: check the price`);
	const said = before ?? behind;
	if (!said) throw new NoCurrency(number, amount);
	if (said === "$")
		throw new Unreadable("$ is the sign of several currencies: write USD, CAD, AUD or NZD");
	return { amount, currency: SIGNS[said] ?? said.toUpperCase() };
}

/** `12.50 EUR`; the bare number where the currency is missing. */
export function moneyWords(amount: number | null, currency: string | null): string {
	if (amount === null) return "";
	return currency ? `${amount.toFixed(2)} ${currency}` : amount.toFixed(2);
}

/** The one currency that all prices are in; null where there are several, or none. */
export function onlyCurrency(
	prices: Iterable<{ readonly currency: string | null }>,
): string | null {
	const found = new Set<string>();
	for (const { currency } of prices) if (currency) found.add(currency);
	const [only] = found;
	return found.size === 1 ? (only ?? null) : null;
}
