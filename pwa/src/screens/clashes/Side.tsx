/** One of the values in question: what it says, who wrote it and when, and the tap that keeps it. */
import type { ComponentChildren } from "preact";
import { millisecondsOf } from "../../domain/stamp.ts";
import type { ClashSide } from "../../sync/clashes.ts";
import { State } from "../../ui/State.tsx";
import { sentence } from "../../ui/words.ts";
import { whenWords } from "../common/fieldWords.ts";
import { phoneName } from "../common/tellers.ts";

interface Props {
	side: ClashSide;
	/** The value that the record shows until somebody settles it. */
	stands: boolean;
	/** A text of several lines. */
	long?: boolean;
	/** What the tap does, like `Keep this`. */
	does: string;
	onTap: () => void;
	children: ComponentChildren;
}

export function Side({ side, stands, long = false, does, onTap, children }: Props) {
	return (
		<button type="button" class="side" onClick={onTap}>
			<span class="side-main">
				<span class="side-value" data-long={long}>
					{children}
				</span>
				<span class="row-under">{written(side)}</span>
				{stands && <State is="plain">stands for now</State>}
			</span>
			<span class="side-does">{does}</span>
		</button>
	);
}

/** `M's phone, 4 May 2026, 14:32`. */
export function written({ device, stamp }: ClashSide): string {
	return `${sentence(phoneName(device))}, ${whenWords(millisecondsOf(stamp))}`;
}
