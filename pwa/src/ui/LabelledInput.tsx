/** A text input of a form that is sent as a whole, its label above it. */
import type { ComponentChildren } from "preact";
import { useId } from "preact/hooks";

interface Props {
	label: string;
	value: string;
	onType: (text: string) => void;
	/** How many characters it takes at most. */
	longest?: number;
	type?: "text" | "date";
	inputMode?: "text" | "decimal";
	placeholder?: string | undefined;
	required?: boolean;
	/** Several lines. */
	multiline?: boolean;
}

export function LabelledInput(props: Props) {
	const { label, value, onType, multiline, longest, type = "text", ...rest } = props;
	const id = useId();
	const shared = {
		id,
		value,
		maxLength: longest,
		autoComplete: "off",
		onInput: (event: { currentTarget: HTMLInputElement | HTMLTextAreaElement }) =>
			onType(event.currentTarget.value),
	};
	return (
		<div class="field">
			<label class="field-label" for={id}>
				{label}
			</label>
			{multiline ? (
				<textarea {...shared} />
			) : (
				// The types of Preact have an input of each type apart; a date takes the same as a text here.
				<input class="input" {...shared} {...rest} type={type as "text"} />
			)}
		</div>
	);
}

/** What opens a sheet to choose from, shown as a field: a label, what is chosen, and a word. */
export function OpensChoice(props: {
	label: string;
	chosen: string;
	word: string;
	onOpen: () => void;
	/** What is wrong with it, shown under it. */
	children?: ComponentChildren;
}) {
	const id = useId();
	return (
		<div class="field">
			<span class="field-label" id={`${id}-label`}>
				{props.label}
			</span>
			<button
				id={id}
				type="button"
				class="input choose"
				aria-labelledby={`${id}-label ${id}`}
				onClick={props.onOpen}
			>
				<span>{props.chosen}</span> <span class="choose-change">{props.word}</span>
			</button>
			{props.children}
		</div>
	);
}
