/**
 * The state of a record from its changes: for each field, the value with the greatest version.
 *
 * A version is (stamp, device, change id), compared as text. So the order of arrival, sending
 * twice and any batching come to the same record on every phone and on the server.
 */
import { type Change, type State, type Version, versionOf } from "./change.ts";
import type { JsonValue } from "./contract.ts";

export const EMPTY: State = { values: {}, versions: {} };

/** `state` after `change`; the same object if nothing in it is newer. */
export function merge(state: State, change: Change): State {
	const version = versionOf(change);
	let values: Record<string, JsonValue> | null = null;
	let versions: Record<string, Version> | null = null;
	for (const [field, value] of Object.entries(change.set)) {
		const held = state.versions[field];
		if (held && !isNewer(version, held)) continue;
		values ??= { ...state.values };
		versions ??= { ...state.versions };
		values[field] = value;
		versions[field] = version;
	}
	return values && versions ? { values, versions } : state;
}

/** The state that `changes`, in any order, come to, starting from `base`. */
export function fold(changes: Iterable<Change>, base: State = EMPTY): State {
	let state = base;
	for (const change of changes) state = merge(state, change);
	return state;
}

/**
 * Whether the record is in the bin: binned, and nothing was written in it since.
 *
 * An edit later than the binning brings the record back, so that the work of somebody who had
 * not seen the binning is in sight again.
 */
export function isBinned({ values, versions }: State): boolean {
	const binned = versions.binned;
	if (values.binned !== true || !binned) return false;
	return Object.values(versions).every((version) => !isNewer(version, binned));
}

/** True when `a` is strictly greater than `b`. */
export function isNewer(a: Version, b: Version): boolean {
	for (const at of [0, 1, 2] as const) {
		if (a[at] !== b[at]) return a[at] > b[at];
	}
	return false;
}
