/** What is wrong with the prices of a line, said as they are entered; the server says it the same way. */
import type { Price, RunLength } from "./contract.ts";

/** What keeps a price from being used, with the way out; null if nothing does. */
export function offerAsks(offer: Price, isRun: boolean): string | null {
	const per = perOf(offer, isRun);
	if (offer.amount !== null && !offer.currency)
		return `${offer.amount} of what? Write the currency, like EUR: until then this price is in no sum.`;
	if (per === "reel" && !offer.length_mm)
		return "Write how long the reel is: until then it can't be planned with.";
	if (per === "pack" && !offer.pieces)
		return "Write how many are in a pack: until then it can't be reckoned with.";
	if (offer.amount === null && per !== "reel")
		return "No price yet: write it, or take this offer away.";
	// A run may be sold made up, by the piece, as well.
	const sold = isRun ? ["reel", "metre", "each", "pack"] : ["each", "pack"];
	if (!sold.includes(per)) return `Sold by the ${per}, which this line isn't bought by.`;
	return null;
}

/** How an offer is sold, where nobody said it. */
export function perOf({ per, length_mm }: Price, isRun: boolean): NonNullable<Price["per"]> {
	return per ?? (length_mm ? "reel" : isRun ? "metre" : "each");
}

/** Prices in several currencies of which none is marked; null where they can be compared. */
export function mixedMoney(
	offers: readonly Price[],
	taken: string | null,
	isRun: boolean,
): string | null {
	const usable = offers.filter((offer) => offerAsks(offer, isRun) === null);
	if (taken && usable.some(({ key }) => key === taken)) return null;
	const priced = usable.filter(({ amount }) => amount !== null);
	const money = [...new Set(priced.map(({ currency }) => currency).filter(Boolean))].sort();
	if (money.length < 2) return null;
	return `Prices in ${money.join(" and ")} can't be compared: mark the one that you take, or write them in one currency. Until then this line is in no sum.`;
}

/** Runs that no reel on offer holds, where nothing is sold by the metre or made up either. */
export function tooLong(runs: readonly RunLength[], offers: readonly Price[]): string | null {
	const usable = offers.filter((offer) => offerAsks(offer, true) === null);
	const reels = usable.filter((offer) => perOf(offer, true) === "reel");
	if (reels.length === 0 || reels.length < usable.length) return null;
	const longestReel = Math.max(...reels.map(({ length_mm }) => length_mm ?? 0));
	const over = runs.filter(({ cut_mm }) => (cut_mm ?? 0) > longestReel);
	if (over.length === 0) return null;
	const longest = Math.max(...over.map(({ cut_mm }) => cut_mm ?? 0));
	const who = over.length === 1 ? `“${over[0]?.name}” is` : `${over.length} runs are`;
	return `${who} longer than any reel here: ${(longest / 1000).toFixed(2)} m with what is added, the longest reel has ${(longestReel / 1000).toFixed(2)} m. Write a longer reel or a price by the metre, or decide on a joint in a box and write it as two runs.`;
}
