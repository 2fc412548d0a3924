/** What became of a table from one version of it to the next. */

export interface Difference<R> {
	readonly key: string;
	/** Null where the record is new. */
	readonly was: R | null;
	/** Null where it is no longer there. */
	readonly now: R | null;
}

type Table<R> = ReadonlyMap<string, R>;

/** One version of a table: what may differ from the one before it. */
interface Version {
	readonly keys: readonly string[];
	readonly before: Version | null;
	readonly depth: number;
}

/** By the table; the versions don't hold tables, so old ones go. */
const versions = new WeakMap<object, Version>();
/** Whoever reads a table less often than so many changes compares all of it. */
const DEEPEST = 200;

/** Say that `now` was made from `was`, and that all but these keys are as they were. */
export function madeFrom<R>(now: Table<R>, was: Table<R>, keys: readonly string[]): void {
	let before = versions.get(was);
	if (!before || before.depth >= DEEPEST) {
		before = { keys: [], before: null, depth: 0 };
		versions.set(was, before);
	}
	versions.set(now, { keys, before, depth: before.depth + 1 });
}

/** Records that differ, found by identity: a record that changes is a new object. */
export function differences<R>(was: Table<R>, now: Table<R>): Difference<R>[] {
	if (was === now) return [];
	const found: Difference<R>[] = [];
	for (const key of changedSince(was, now) ?? new Set([...was.keys(), ...now.keys()])) {
		const [old, record] = [was.get(key) ?? null, now.get(key) ?? null];
		if (old !== record) found.push({ key, was: old, now: record });
	}
	return found;
}

/** The keys that were said to have changed; null where nothing leads from one to the other. */
function changedSince<R>(was: Table<R>, now: Table<R>): ReadonlySet<string> | null {
	const from = versions.get(was);
	const keys = new Set<string>();
	for (let at = versions.get(now) ?? null; at; at = at.before) {
		if (at === from) return keys;
		for (const key of at.keys) keys.add(key);
	}
	return null;
}
