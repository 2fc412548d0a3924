/** A row with a tick: its name, what stands under it, and what stands at its end. */
import type { ComponentChildren } from "preact";

interface Props {
	title: string;
	under: ComponentChildren;
	ticked: boolean;
	onTurn: () => void;
	children?: ComponentChildren;
}

export function TickRow({ title, under, ticked, onTurn, children }: Props) {
	return (
		<label class="row">
			<input class="tick" type="checkbox" checked={ticked} onChange={onTurn} />
			<span class="row-main">
				<span class="row-title">{title}</span>
				<span class="row-under">{under}</span>
			</span>
			{children}
		</label>
	);
}

/** A set of keys with one put in, or taken out where it was in. */
export function turned(keys: ReadonlySet<string>, key: string): ReadonlySet<string> {
	const next = new Set(keys);
	if (!next.delete(key)) next.add(key);
	return next;
}
