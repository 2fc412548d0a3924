/** Records by something they name, worked out once for each state of a table. */

type Records<V> = ReadonlyMap<string, V>;

/**
 * A look-up by `nameOf`; records without a name are in no group. Answers in the table's order.
 *
 * A table is a new map after each change, so a map that was grouped once stays true.
 */
export function groupedBy<V>(
	nameOf: (record: V) => string | null,
): (records: Records<V>, name: string) => readonly V[] {
	const made = new WeakMap<Records<V>, ReadonlyMap<string, readonly V[]>>();
	return (records, name) => {
		let groups = made.get(records);
		if (!groups) {
			groups = group(records.values(), nameOf);
			made.set(records, groups);
		}
		return groups.get(name) ?? [];
	};
}

function group<V>(
	records: Iterable<V>,
	nameOf: (record: V) => string | null,
): Map<string, readonly V[]> {
	const groups = new Map<string, V[]>();
	for (const record of records) {
		const name = nameOf(record);
		if (name === null) continue;
		const found = groups.get(name);
		if (found) found.push(record);
		else groups.set(name, [record]);
	}
	return groups;
}
