/** The head of a list of masses: a few sums in large figures, each with its range under its name. */
import type { Spread } from "../../domain/contract.ts";
import { kilograms } from "../../ui/words.ts";

interface Props {
	/** Sums by what they are called, in their order. */
	of: Readonly<Record<string, Spread>>;
	/** How a range is said. */
	range: (of: Spread) => string;
}

export function Totals({ of, range }: Props) {
	return (
		<dl class="totals totals-masses">
			{Object.entries(of).map(([name, sum]) => {
				const [figure, unit] = kilograms(sum.likely).split(" ");
				return (
					<div key={name}>
						<dt>
							{name}
							<br />
							{range(sum)}
						</dt>
						<dd>
							{figure} <small>{unit}</small>
						</dd>
					</div>
				);
			})}
		</dl>
	);
}

/** What stands where a list has never reached this phone. */
export function NoListYet({ title, children }: { title: string; children: string }) {
	return (
		<div class="empty">
			<h2>{title}</h2>
			<p>
				{children} Go where there is a signal and tap “Make it anew”; after that it is here offline
				too.
			</p>
		</div>
	);
}
