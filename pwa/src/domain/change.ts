/** One edit of one record by one device, as the phone keeps it and the server receives it. */
import type { JsonValue, RecordOf, TableName, Values } from "./contract.ts";

/** What a screen asks to keep: some fields of one record. `null` clears a field. */
export type Edit = {
	readonly [T in TableName]: {
		readonly table: T;
		readonly key: string;
		readonly set: Partial<Omit<RecordOf<T>, "key">>;
	};
}[TableName];

export interface Change {
	/** UUIDv7, made on the device. */
	readonly id: string;
	/** UUID of the device. */
	readonly device: string;
	/** The device's own running number, from 1; below 0 in a change that restates another. */
	readonly seq: number;
	/** Hybrid logical clock: 12 hex digits of milliseconds and 4 of a counter. */
	readonly stamp: string;
	readonly table: string;
	readonly key: string;
	readonly set: Values;
	/** The cursor of the boat that the author had seen. */
	readonly base: number;
	/** Given by the server; absent until it has acknowledged the change. */
	readonly cursor?: number;
	/** The stamp as its author sent it, where the server had to put it right. */
	readonly own_stamp?: string | null;
	/**
	 * The id of a lost change, of which this one says again what a phone knew from a snapshot. It
	 * merges as that change, with its author and stamp.
	 */
	readonly restates?: string;
	/** Sent where a server had this change and may have lost it: `stamp` is as it stood there. */
	readonly again?: boolean;
}

/** The version that `change` gives the fields that it sets. */
export function versionOf({ stamp, device, id, restates }: Change): Version {
	return [stamp, device, restates ?? id];
}

/** Which change a value came from: stamp, device, change id; compared as text in this order. */
export type Version = readonly [stamp: string, device: string, id: string];

/** A record as it is kept: values of all fields, known or not, and where each came from. */
export interface State {
	readonly values: Readonly<Record<string, JsonValue>>;
	readonly versions: Readonly<Record<string, Version>>;
}
