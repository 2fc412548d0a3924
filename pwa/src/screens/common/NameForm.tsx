/** One line to name something new. */
import { useId, useState } from "preact/hooks";
import { Under } from "../../ui/Field.tsx";

interface Props {
	label: string;
	button: string;
	fault: string | null;
	onName: (name: string) => void;
}

export function NameForm({ label, button, fault, onName }: Props) {
	const id = useId();
	const [name, setName] = useState("");
	const submit = (event: Event): void => {
		event.preventDefault();
		if (name.trim() === "") return;
		onName(name.trim());
		setName("");
	};
	return (
		<form class="field" onSubmit={submit}>
			<label class="field-label" for={id}>
				{label}
			</label>
			<div class="input-row">
				<input
					id={id}
					class="input"
					type="text"
					autoComplete="off"
					maxLength={200}
					aria-describedby={fault ? `${id}-under` : undefined}
					value={name}
					onInput={(event) => setName(event.currentTarget.value)}
				/>
				<button type="submit" class="button">
					{button}
				</button>
			</div>
			<Under id={`${id}-under`} fault={fault} />
		</form>
	);
}
