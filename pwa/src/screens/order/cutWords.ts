/** How near a cut plan is to the best there could be, in the words of the printed sheet. */
import type { CutSheet } from "../../domain/contract.ts";

/** A sentence or two, also where nothing is cut or bought. */
export function nearness(cut: CutSheet): string {
	if (cut.stock.length === 0 && cut.by_metre.length === 0)
		return "Nothing on offer and nothing in the shed holds these runs: nothing is cut.";
	const leftOut = cut.too_long.length > 0 ? " The runs that nothing holds are left out." : "";
	if (cut.bought_mm === 0)
		return `Nothing must be bought: what lies in the shed is enough.${leftOut}`;
	return `${proof(cut)}${leftOut}`;
}

function proof(cut: CutSheet): string {
	const { cost, bound, currency, proven } = cut;
	if (cost === null || bound === null) {
		if (proven) return `No ${currency ? "cheaper" : "shorter"} purchase is possible.`;
		if (currency) return "Whether a cheaper purchase is possible is open.";
		return `${share(cut.bought_mm, cut.least_mm)} longer than the shortest purchase could be.`;
	}
	const least = `No plan costs less than ${bound.toFixed(2)} ${currency}`;
	if (proven) return `${least}: this is the cheapest.`;
	if (bound === 0)
		return `Whether it could be done for less than ${cost.toFixed(2)} ${currency} is open.`;
	return `${least}. ${share(cost, bound)} dearer than the cheapest could be.`;
}

/** How much worse at most. A gap too small to print isn't 0. */
function share(got: number, least: number): string {
	const gap = least > 0 ? (100 * (got - least)) / least : 0;
	return `This one is at most ${Math.max(0.1, Math.ceil(gap * 10) / 10).toFixed(1)} %`;
}
