/** A mass with its spread and how it was got. */
import type { Spread } from "../../domain/contract.ts";
import { kilograms } from "../../ui/words.ts";

export function Mass({ of }: { of: Spread }) {
	return (
		<span class="mass">
			<span class="strong">{kilograms(of.likely)}</span>
			<small>{spreadWords(of)}</small>
		</span>
	);
}

/** `40 to 62 kg`; empty where there is nothing to say. */
export function rangeWords(of: Spread): string {
	if (of.likely === 0 && of.high === 0) return "";
	if (of.low === of.high) return kilograms(of.high);
	return `${kilograms(of.low).replace(" kg", "")} to ${kilograms(of.high)}`;
}

export function spreadWords(of: Spread): string {
	if (of.likely === 0 && of.high === 0) return "";
	if (of.low === of.high) return of.basis;
	return `${kilograms(of.low).replace(" kg", "")} to ${kilograms(of.high)}, ${of.basis}`;
}
