/** Clashes as a person settles them: one question for each field, with every value offered once. */
import type { Clash, ClashSide } from "../../sync/clashes.ts";

export interface Dispute {
	/** `bin`: in the bin or not. `tag`: on which of two things a tag hangs. */
	readonly sort: "field" | "tag" | "bin";
	readonly table: string;
	readonly key: string;
	readonly field: string;
	/** The value that stands now comes first. */
	readonly sides: readonly ClashSide[];
}

/** In the order in which they were found. */
export function disputesOf(clashes: readonly Clash[]): Dispute[] {
	const found = new Map<string, Clash[]>();
	for (const clash of clashes) {
		const name = `${clash.table}/${clash.key}/${clash.field}`;
		found.set(name, [...(found.get(name) ?? []), clash]);
	}
	return [...found.values()].map(disputeOf);
}

function disputeOf(rows: readonly Clash[]): Dispute {
	const [{ table, key, field }] = rows as [Clash];
	// Of several phones the latest version stands; a value that two of them wrote is one choice.
	const sides = rows
		.flatMap(({ kept, lost }) => [kept, lost])
		.sort((a, b) =>
			a.stamp > b.stamp ? -1 : a.stamp < b.stamp ? 1 : a.device > b.device ? -1 : 1,
		);
	const values = new Set<unknown>();
	const once = sides.filter(({ value }) => !values.has(value) && values.add(value));
	const sort = field === "binned" ? "bin" : table === "tag" && field === "on" ? "tag" : "field";
	return { sort, table, key, field, sides: once };
}
