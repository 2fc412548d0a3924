/** A large figure, typed with gloves; what is wrong with it stands under it at once. */
import { useId } from "preact/hooks";
import { Under } from "../../ui/Field.tsx";

interface Props {
	label: string;
	value: string;
	why: string | null;
	onType: (text: string) => void;
}

export function ScaleField({ label, value, why, onType }: Props) {
	const id = useId();
	return (
		<div class="field">
			<label class="field-label" for={id}>
				{label}
			</label>
			<input
				id={id}
				class="input weigh-input"
				type="text"
				inputMode="decimal"
				autoComplete="off"
				value={value}
				aria-invalid={why ? "true" : undefined}
				aria-describedby={`${id}-under`}
				onInput={(event) => onType(event.currentTarget.value)}
			/>
			<Under id={`${id}-under`} fault={why} hint="kg; or 800 g, 26 lb" />
		</div>
	);
}
