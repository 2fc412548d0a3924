/** Whether a value fits its field; the same answers, in the same words, as the server's check. */
import type { JsonValue, TableName, Values } from "./contract.ts";
import { type FieldShape, SHAPES } from "./fields.ts";

export interface Fault {
	readonly field: string;
	/** Goes on from the field's name: "must lie from 0 to 50000 mm". */
	readonly detail: string;
}

const MAX_UNKNOWN_TEXT = 4_000;
const TIME = /^\d{4}-\d{2}-\d{2}[T ]\d{2}:\d{2}(:\d{2}(\.\d+)?)?(Z|[+-]\d{2}:?\d{2})?$/;
/** Half of a surrogate pair: legal in JavaScript, unwritable everywhere else. */
const HALF_A_PAIR = /\p{Surrogate}/u;
const DATE = /^\d{4}-\d{2}-\d{2}$/;

/** Everything wrong with `set` for `table`; empty means that all of it may be kept. */
export function faults(table: TableName, set: Values): Fault[] {
	return Object.entries(set).flatMap(([field, value]) => {
		const shape = SHAPES[table][field];
		const detail = shape ? fault(shape, value) : unknownFault(value);
		return detail ? [{ field, detail }] : [];
	});
}

/** True when `value` can stand in this field of `table`. */
export function usable(table: TableName, field: string, value: JsonValue): boolean {
	const shape = SHAPES[table][field];
	return shape === undefined || fault(shape, value) === "";
}

function unknownFault(value: JsonValue): string {
	if (typeof value !== "string" || value.length <= MAX_UNKNOWN_TEXT) return "";
	return `only text of at most ${MAX_UNKNOWN_TEXT} characters, a number, yes or no can be kept`;
}

function fault(shape: FieldShape, value: JsonValue): string {
	if (value === null) return "";
	switch (shape.is) {
		case "choice":
			return shape.of.includes(value as string) ? "" : `must be one of: ${shape.of.join(", ")}`;
		case "yes or no":
			return typeof value === "boolean" ? "" : "must be yes (true) or no (false)";
		case "number":
		case "whole":
			return numberFault(shape, value);
		default:
			return textFault(shape, value);
	}
}

function numberFault(
	shape: Extract<FieldShape, { is: "number" | "whole" }>,
	value: JsonValue,
): string {
	if (typeof value !== "number" || !Number.isFinite(value)) return "must be a number";
	if (shape.is === "whole" && !Number.isInteger(value)) return "must be a whole number";
	const { low = -Infinity, high = Infinity, unit = "" } = shape;
	return value >= low && value <= high ? "" : `must lie from ${low} to ${high} ${unit}`.trimEnd();
}

function textFault(
	shape: Exclude<FieldShape, { is: "number" | "whole" | "choice" | "yes or no" }>,
	value: JsonValue,
): string {
	if (typeof value !== "string") return "must be text";
	if (value.includes("\0") || HALF_A_PAIR.test(value))
		return "holds a character that can't be kept; type it again";
	switch (shape.is) {
		case "text":
			return longTextFault(shape, value);
		case "moment":
			return momentFault(value);
		case "ref":
			return value.length >= 1 && value.length <= 64 ? "" : "must be the key of a record";
		case "target":
			return targetFault(shape.tables, value);
	}
}

function longTextFault(shape: Extract<FieldShape, { is: "text" }>, value: string): string {
	// Counted in characters as the server counts them, not in UTF-16 units.
	if (value.length > shape.longest && [...value].length > shape.longest) {
		return `is longer than ${shape.longest} characters; shorten it`;
	}
	if (shape.pattern && !new RegExp(shape.pattern).test(value)) return "is not in the expected form";
	return "";
}

function momentFault(value: string): string {
	const isDate = DATE.test(value);
	if ((!isDate && !TIME.test(value)) || Number.isNaN(Date.parse(value))) {
		return "must be a date like 2026-05-04, or a time like 2026-05-04T18:30:00+01:00";
	}
	if (!isDate && !TIME.exec(value)?.[3]) {
		return "must carry its offset from UTC, like +01:00 or Z";
	}
	return "";
}

function targetFault(tables: readonly string[], value: string): string {
	const slash = value.indexOf("/");
	const key = value.slice(slash + 1);
	if (slash < 1 || key.length < 1 || key.length > 64) {
		return "must name a table and a key, like item/0190...";
	}
	if (tables.length > 0 && !tables.includes(value.slice(0, slash))) {
		return `must belong to one of: ${tables.join(", ")}`;
	}
	return "";
}
