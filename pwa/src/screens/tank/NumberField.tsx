/** A number on the decimal pad; what can't be read says why and stays. */
import { TextField } from "../../ui/Field.tsx";

interface Props {
	label: string;
	value: number | null;
	hint?: string;
	low?: number;
	high?: number;
	onKeep: (value: number | null) => void;
}

export function NumberField({ label, value, hint, low = 0, high = 50_000, onKeep }: Props) {
	return (
		<TextField
			label={label}
			inputMode={low < 0 ? "text" : "decimal"}
			hint={hint}
			value={value === null ? "" : String(value)}
			onKeep={(text) => {
				if (text === "") {
					onKeep(null);
					return null;
				}
				const read = Number(text.replace(",", "."));
				if (!Number.isFinite(read) || read < low || read > high)
					return `“${text}” was not kept and stays as you typed it: write a number, ${low} to ${high}.`;
				onKeep(read);
				return null;
			}}
		/>
	);
}
