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
	const record: Record<string, JsonValue> = { key };
	for (const field of Object.keys(SHAPES[table])) {
		const value = values[field] ?? null;
		record[field] = usable(table, field, value) ? value : null;
	}
	return record as unknown as RecordOf<T>;
}

/** True for a table that this version of the app knows. */
export function isTable(name: string): name is TableName {
	return Object.hasOwn(SHAPES, name);
}
