/** What taking back one change comes to, from the log of its record. */
import { type Change, type State, type Version, versionOf } from "./change.ts";
import type { JsonValue } from "./contract.ts";
import { fold, isNewer } from "./merge.ts";

export interface Undone {
	/** The values to write; empty if the change stands nowhere any more. */
	readonly set: Readonly<Record<string, JsonValue>>;
	/** Fields that were written since, which stay as they are. */
	readonly overwritten: readonly string[];
	/** Fields whose value before it is not known here. */
	readonly unknown: readonly string[];
}

/** Tables whose records are never put in the bin by undoing what made them. */
const NEVER_BINNED = new Set(["boat", "tag"]);

/**
 * What brings back the values before `change`, for each of its fields that still stands.
 *
 * `state` is the record now, `base` what a snapshot brought of it (or nothing), `log` every change
 * known of it. If the change made the record, and nothing was written in it since, undoing it
 * puts the record in the bin.
 */
export function undone(change: Change, state: State, log: readonly Change[], base: State): Undone {
	const own = versionOf(change);
	const older = log.filter((other) => isNewer(own, versionOf(other)));
	const before = olderPart(base, own, fold(older));
	// What restates a change may be a part of it, so what was before stays unknown.
	const isLogged = log.some(({ id, restates }) => id === own[2] && restates === undefined);
	const fields = Object.keys(change.set);
	const standing = fields.filter((field) => state.versions[field]?.[2] === own[2]);
	const overwritten = fields.filter((field) => !standing.includes(field));
	const unknown = standing.filter((field) => !before.versions[field] && !isLogged);
	if (isLogged && isTheWhole(change, state, before)) {
		return { set: { binned: true }, overwritten, unknown };
	}
	const known = standing.filter((field) => !unknown.includes(field));
	const set = Object.fromEntries(known.map((field) => [field, valueBefore(before, field)]));
	return { set, overwritten, unknown };
}

function isTheWhole(change: Change, state: State, before: State): boolean {
	return (
		!NEVER_BINNED.has(change.table) &&
		change.set.binned !== true &&
		Object.keys(before.versions).length === 0 &&
		Object.values(state.versions).every(([, , id]) => id === change.id)
	);
}

/** `before`, and what of `base` is newer than that and still older than the change. */
function olderPart(base: State, own: Version, before: State): State {
	const values = { ...before.values };
	const versions = { ...before.versions };
	for (const [field, version] of Object.entries(base.versions)) {
		const held = versions[field];
		if (!isNewer(own, version) || (held && !isNewer(version, held))) continue;
		values[field] = base.values[field] ?? null;
		versions[field] = version;
	}
	return { values, versions };
}

function valueBefore({ values }: State, field: string): JsonValue {
	return values[field] ?? (field === "binned" ? false : null);
}
