/** A figure, typed with gloves; what is wrong with it stands under it at once, not when it is left. */
import { useId } from "preact/hooks";
import { Under } from "./Field.tsx";

interface Props {
	label: string;
	value: string;
	why: string | null;
	hint?: string | undefined;
	/** Numbers under zero come in too; the decimal pad of some phones has no minus. */
	signed?: boolean;
	/** Set where the figure is the point of the screen. */
	large?: boolean;
	onType: (text: string) => void;
}

export function FigureField({ label, value, why, hint, signed, large, onType }: Props) {
	const id = useId();
	return (
		<div class="field">
			<label class="field-label" for={id}>
				{label}
			</label>
			<input
				id={id}
				class={large ? "input input-figure" : "input"}
				type="text"
				inputMode={signed ? "text" : "decimal"}
				autoComplete="off"
				value={value}
				aria-invalid={why ? "true" : undefined}
				aria-describedby={why || hint ? `${id}-under` : undefined}
				onInput={(event) => onType(event.currentTarget.value)}
			/>
			<Under id={`${id}-under`} fault={why} hint={hint} />
		</div>
	);
}
