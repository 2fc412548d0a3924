/** A number on the decimal pad; what can't be read says why and stays, a length with a unit is read. */
import { numberTyped, unitOf } from "../../domain/typed.ts";
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
				const read = numberTyped(text, low, high, unitOf(label));
				if ("why" in read) return read.why;
				onKeep(read.value);
				return null;
			}}
		/>
	);
}
