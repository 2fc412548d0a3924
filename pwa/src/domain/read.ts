/** A record as the screens read it, from whatever values have arrived. */
import type { JsonValue, RecordOf, TableName } from "./contract.ts";
import { SHAPES } from "./fields.ts";
import { usable } from "./shape.ts";

/**
 * The record of `table` with this key and these values.
 *
 * Fields without a value are null. So is a value in a form that this version can't use, as a
 * newer phone may write; it stays in the stored state. Unknown fields are left out.
 */
export function read<T extends TableName>(
	table: T,
	key: string,
	values: Readonly<Record<string, JsonValue>>,
): RecordOf<T> {
	const record: Record<string, JsonValue> = { ...blank(table), key };
	// Only what is there is looked at: most fields of most records are empty.
	for (const field of Object.keys(values)) {
		const value = values[field] ?? null;
		if (field in record && value !== null && usable(table, field, value)) record[field] = value;
	}
	record.key = key;
	return record as unknown as RecordOf<T>;
}

const BLANKS = new Map<TableName, Readonly<Record<string, null>>>();

function blank(table: TableName): Readonly<Record<string, null>> {
	const known = BLANKS.get(table);
	if (known) return known;
	const made = Object.fromEntries(Object.keys(SHAPES[table]).map((field) => [field, null]));
	BLANKS.set(table, made);
	return made;
}

/** True for a table that this version of the app knows. */
export function isTable(name: string): name is TableName {
	return Object.hasOwn(SHAPES, name);
}
