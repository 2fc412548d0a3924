/** Fields with a label above, a hint or a fault below. What was typed stays, whatever is wrong. */
import type { ComponentChildren } from "preact";
import { useEffect, useId, useState } from "preact/hooks";

interface TextProps {
	label: string;
	value: string;
	/** Called when the field is left or Enter is pressed; a sentence that comes back is shown. */
	onKeep: (text: string) => string | null | undefined;
	hint?: string | undefined;
	inputMode?: "text" | "decimal" | "numeric" | "search";
	multiline?: boolean;
	code?: boolean;
	longest?: number;
	autoComplete?: string;
}

export function TextField(props: TextProps) {
	const { label, value, onKeep, hint, multiline, inputMode = "text", code, longest } = props;
	const id = useId();
	const [text, setText] = useState(value);
	const [fault, setFault] = useState<string | null>(null);
	useEffect(() => {
		setText(value);
		setFault(null);
	}, [value]);
	const keep = (): void => {
		if (text.trim() !== value.trim() || fault) setFault(onKeep(text.trim()) ?? null);
	};
	const shared = {
		id,
		value: text,
		class: code ? "input input-code" : "input",
		maxLength: longest,
		"aria-invalid": fault ? ("true" as const) : undefined,
		"aria-describedby": fault || hint ? `${id}-under` : undefined,
		onInput: (event: { currentTarget: HTMLInputElement | HTMLTextAreaElement }) =>
			setText(event.currentTarget.value),
		onBlur: keep,
	};
	return (
		<div class="field">
			<label class="field-label" for={id}>
				{label}
			</label>
			{multiline ? (
				<textarea {...shared} />
			) : (
				<input
					{...shared}
					type="text"
					inputMode={inputMode}
					autoComplete={props.autoComplete ?? "off"}
					autoCapitalize={code ? "characters" : "sentences"}
					spellcheck={!code}
					onKeyDown={(event) => {
						if (event.key === "Enter") keep();
					}}
				/>
			)}
			<Under id={`${id}-under`} fault={fault} hint={hint} />
		</div>
	);
}

export function Under(props: { id: string; fault: string | null; hint?: string | undefined }) {
	if (props.fault)
		return (
			<p class="field-fault" id={props.id} role="alert">
				{props.fault}
			</p>
		);
	if (!props.hint) return null;
	return (
		<p class="field-hint" id={props.id}>
			{props.hint}
		</p>
	);
}

interface SelectProps {
	label: string;
	value: string;
	onChange: (value: string) => void;
	hint?: string;
	children: ComponentChildren;
}

export function SelectField({ label, value, onChange, hint, children }: SelectProps) {
	const id = useId();
	return (
		<div class="field">
			<label class="field-label" for={id}>
				{label}
			</label>
			<span class="select">
				<select
					id={id}
					class="input"
					value={value}
					aria-describedby={hint ? `${id}-under` : undefined}
					onChange={(event) => onChange(event.currentTarget.value)}
				>
					{children}
				</select>
			</span>
			<Under id={`${id}-under`} fault={null} hint={hint} />
		</div>
	);
}
