/** The steps of buying a line, as they are kept: a day for each that was taken. */
import type { Purchase } from "../../domain/contract.ts";

export type Step = "to buy" | "bought" | "arrived" | "fitted";

/** The furthest step that has a day. */
export function stateOf(purchase: Purchase | undefined): Step {
	if (purchase?.fitted_at) return "fitted";
	if (purchase?.arrived_at) return "arrived";
	return purchase?.bought_at ? "bought" : "to buy";
}

/** What to keep when a step is chosen: its own day is now, those of later steps go. */
export function stepped(
	to: Step,
	now: string,
	count: number,
	line: string,
): Partial<Omit<Purchase, "key">> {
	if (to === "to buy") return { line, bought_at: null, arrived_at: null, fitted_at: null };
	if (to === "bought") return { line, count, bought_at: now, arrived_at: null, fitted_at: null };
	if (to === "arrived") return { line, arrived_at: now, fitted_at: null };
	return { line, fitted_at: now };
}
