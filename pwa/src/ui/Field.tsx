/** Fields with a label above, a hint or a fault below. What was typed stays, whatever is wrong. */
import type { ComponentChildren } from "preact";
import { useEffect, useId, useRef, useState } from "preact/hooks";

interface TextProps {
	label: string;
	value: string;
	/**
	 * Called when the field is left, Enter is pressed, its form is sent or its screen goes away; a
	 * sentence that comes back is shown.
	 */
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
	const typedIn = useKeptWithoutLeaving(keep);
	const shared = {
		id,
		ref: typedIn,
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

/**
 * Keeps a field that is never left. No blur comes where the window is not in front (seen in
 * Firefox), and on iPhones not before every tap on something else
 * (https://github.com/ionic-team/ionic-framework/issues/4943), so the form that is sent and the
 * screen that goes away ask for what was typed, too.
 */
function useKeptWithoutLeaving(keep: () => void) {
	const field = useRef<HTMLInputElement & HTMLTextAreaElement>(null);
	const latest = useRef(keep);
	latest.current = keep;
	useEffect(() => {
		const form = field.current?.form;
		const now = (): void => latest.current();
		form?.addEventListener("submit", now, { capture: true });
		return () => {
			form?.removeEventListener("submit", now, { capture: true });
			now();
		};
	}, []);
	return field;
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
