/** Typing a code when the tag is too dirty to scan. */
import { useId, useState } from "preact/hooks";
import { fromScan } from "../../domain/tag.ts";
import { Under } from "../../ui/Field.tsx";

interface Props {
	label: string;
	button: string;
	onCode: (code: string) => void;
}

export function CodeEntry({ label, button, onCode }: Props) {
	const id = useId();
	const [text, setText] = useState("");
	const [fault, setFault] = useState<string | null>(null);
	const submit = (event: Event): void => {
		event.preventDefault();
		const read = readCode(text);
		if ("fault" in read) {
			setFault(read.fault);
			return;
		}
		setFault(null);
		setText("");
		onCode(read.code);
	};
	return (
		<form class="field" onSubmit={submit}>
			<label class="field-label" for={id}>
				{label}
			</label>
			<div class="input-row">
				<input
					id={id}
					class="input input-code"
					type="text"
					autoComplete="off"
					autoCapitalize="characters"
					spellcheck={false}
					aria-invalid={fault ? "true" : undefined}
					aria-describedby={`${id}-under`}
					value={text}
					onInput={(event) => setText(event.currentTarget.value)}
				/>
				<button type="submit" class="button button-main">
					{button}
				</button>
			</div>
			<Under
				id={`${id}-under`}
				fault={fault}
				hint="O is read as 0, I and L as 1. The hyphen may be left out."
			/>
		</form>
	);
}

/** A code out of what was typed or scanned, or the sentence that says what is wrong with it. */
export function readCode(text: string): { code: string } | { fault: string } {
	try {
		return { code: fromScan(text) };
	} catch (error) {
		if (error instanceof Error) return { fault: error.message };
		throw error;
	}
}
