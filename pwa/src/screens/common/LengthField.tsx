/** A length with its unit, as people write it: `19 mm`, `3/4 in`, `30 m`, `100 ft`. */
import { parseLengthMm, Unreadable } from "../../domain/measure.ts";
import { TextField } from "../../ui/Field.tsx";

interface Props {
	label: string;
	mm: number | null;
	hint?: string;
	mostMm?: number;
	onKeep: (mm: number | null) => void;
}

export function LengthField({ label, mm, hint = "19 mm, 3/4 in", mostMm, onKeep }: Props) {
	return (
		<TextField
			label={label}
			value={mm === null ? "" : lengthText(mm)}
			hint={hint}
			onKeep={(text) => {
				if (text === "") {
					onKeep(null);
					return null;
				}
				const read = readLength(text, mostMm);
				if ("why" in read) return read.why;
				onKeep(read.mm);
				return null;
			}}
		/>
	);
}

/** A length, or the sentence that says why it can't be read. */
export function readLength(text: string, mostMm?: number): { mm: number } | { why: string } {
	try {
		return { mm: Number(parseLengthMm(text, mostMm).toFixed(3)) };
	} catch (error) {
		if (error instanceof Unreadable)
			return { why: `“${text}” was not kept and stays as you typed it: ${error.message}.` };
		throw error;
	}
}

/** `640 mm`, `30 m`: what the field reads back. */
export function lengthText(mm: number): string {
	return mm >= 10_000 ? `${Number((mm / 1000).toFixed(3))} m` : `${Number(mm.toFixed(2))} mm`;
}
