import { describe, expect, it } from "vitest";
import { moneyWords, NoCurrency, onlyCurrency, parseMoney } from "./money.ts";
import { Unreadable } from "./unreadable.ts";

describe("a price as people write it", () => {
	it.each([
		["12.50 EUR", 12.5, "EUR"],
		["12,5 eur", 12.5, "EUR"],
		["€ 44", 44, "EUR"],
		["44€", 44, "EUR"],
		["£8", 8, "GBP"],
		["NOK 1200", 1200, "NOK"],
		["0 SEK", 0, "SEK"],
	])("reads %s", (text, amount, currency) => {
		expect(parseMoney(text)).toEqual({ amount, currency });
	});

	it("refuses a price of no currency, and keeps what was read to be completed", () => {
		expect(() => parseMoney("12.50")).toThrow(NoCurrency);
		try {
			parseMoney("12,50");
		} catch (error) {
			expect(error).toMatchObject({ amount: 12.5 });
			expect(String(error)).toContain("like 12,50 EUR");
		}
	});

	it.each([
		["$ 12", "USD, CAD, AUD"],
		["1,200 EUR", "can mean 1.2 or 1200"],
		["1.200,50 EUR", "is no price"],
		["12 EUR GBP", "is no price"],
		["cheap", "is no price"],
		["-3 EUR", "is no price"],
		["2000000 EUR", "more than 1000000"],
	])("refuses %s and says what to write", (text, words) => {
		expect(() => parseMoney(text)).toThrow(Unreadable);
		expect(() => parseMoney(text)).toThrow(words);
	});

	it("offers a currency only where all prices are in one", () => {
		expect(onlyCurrency([{ currency: "EUR" }, { currency: null }, { currency: "EUR" }])).toBe(
			"EUR",
		);
		expect(onlyCurrency([{ currency: "EUR" }, { currency: "GBP" }])).toBeNull();
		expect(onlyCurrency([])).toBeNull();
	});

	it("is shown with its currency, or bare where that is missing", () => {
		expect(moneyWords(12.5, "EUR")).toBe("12.50 EUR");
		expect(moneyWords(12.5, null)).toBe("12.50");
		expect(moneyWords(null, "EUR")).toBe("");
	});
});
