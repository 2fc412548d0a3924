/** A number typed into a field that has a unit: a length with a unit of its own is turned into it. */
import { parseLengthMm } from "./measure.ts";
import { Unreadable } from "./unreadable.ts";

export type LengthUnit = "mm" | "m";

/** The unit that a label names: `Length, m`, `Way back, mm, if other`; null where it names none. */
export function unitOf(label: string): LengthUnit | null {
	const found = /, (mm|m)(?:,|$)/.exec(label)?.[1];
	return found === "mm" || found === "m" ? found : null;
}

/** The number, or the sentence that says why it was not kept. */
export function numberTyped(
	text: string,
	low: number,
	high: number,
	unit: LengthUnit | null,
): { value: number } | { why: string } {
	const notKept = `“${text}” was not kept and stays as you typed it`;
	const plain = Number(text.replace(",", "."));
	let value = plain;
	if (unit && !Number.isFinite(plain)) {
		try {
			value = Number((parseLengthMm(text) / (unit === "m" ? 1_000 : 1)).toFixed(4));
		} catch (error) {
			if (!(error instanceof Unreadable)) throw error;
			const range = `${low} to ${high}`;
			return { why: `${notKept}: ${error.message}, or the plain number of ${unit}, ${range}.` };
		}
	}
	if (!Number.isFinite(value) || value < low || value > high)
		return { why: `${notKept}: write a number, ${low} to ${high}${unit ? ` ${unit}` : ""}.` };
	return { value };
}
