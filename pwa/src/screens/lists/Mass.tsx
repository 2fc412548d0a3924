/** A mass with its spread and how it was got. */
import type { Spread } from "../../domain/contract.ts";
import { kilograms } from "../../ui/words.ts";

export function Mass({ of }: { of: Spread }) {
	return (
		<span class="mass">
			<span class="strong">{kilograms(of.likely)}</span>
			<small>
				<Spreading of={of} />
			</small>
		</span>
	);
}

function Spreading({ of }: { of: Spread }) {
	const [range, basis] = spreadParts(of);
	if (basis === undefined) return range ?? null;
	return (
		<>
			<span class="mass-range">{range},</span> {basis}
		</>
	);
}

/** `40 to 62 kg`; empty where there is nothing to say. */
export function rangeWords(of: Spread): string {
	if (of.likely === 0 && of.high === 0) return "";
	const [low, high] = [kilograms(of.low), kilograms(of.high)];
	return low === high ? high : `${low.replace(" kg", "")} to ${high}`;
}

export function spreadWords(of: Spread): string {
	return spreadParts(of).join(", ");
}

/** The range and how it was got; what says nothing is left out. */
export function spreadParts(of: Spread): readonly string[] {
	if (of.likely === 0 && of.high === 0) return [];
	const range = rangeWords(of);
	// A doubt too small to be seen in the figures is none worth reading.
	return range === kilograms(of.low) ? [of.basis] : [range, of.basis];
}

/** The sum of a list with its doubt, and how much of it was weighed. */
export function MassTotals({ total, weighedShare }: { total: Spread; weighedShare: number }) {
	const [figure, unit] = kilograms(total.likely).split(" ");
	return (
		<dl class="totals totals-masses">
			<div>
				<dt>
					in all
					<br />
					{rangeWords(total)}
				</dt>
				<dd>
					{figure} <small>{unit}</small>
				</dd>
			</div>
			<div>
				<dt>of it weighed</dt>
				<dd>
					{Math.round(weighedShare * 100)} <small>%</small>
				</dd>
			</div>
		</dl>
	);
}
