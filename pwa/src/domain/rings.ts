/** Rings of orders: where they are, and whether something lies in one. */

/** Targets next to one, in the order of work's own lists, so that ties end as on the server. */
export type Neighbours = (target: string) => readonly string[];

export interface Rings {
	/** A shortest ring of each knot, through its first step. */
	readonly rings: readonly (readonly string[])[];
	/** Everything that lies in a knot, on its shortest ring or not. */
	readonly knotted: ReadonlySet<string>;
}

/** All rings among targets, which come in the order of work. */
export function ringsAmong(
	targets: readonly string[],
	firsts: Neighbours,
	thens: Neighbours,
): Rings {
	const tied = notFree(targets, firsts);
	const rings: string[][] = [];
	const knotted = new Set<string>();
	for (const target of targets) {
		if (!tied.has(target) || knotted.has(target)) continue;
		const ahead = reached(target, thens, tied);
		const last = ahead.get(target);
		if (last === undefined) continue;
		const behind = reached(target, firsts, tied);
		for (const other of ahead.keys()) if (behind.has(other)) knotted.add(other);
		rings.push(walkedBack(ahead, target, last));
	}
	return { rings, knotted };
}

/** True when a target comes before itself: searched from both sides, so the smaller one decides. */
export function liesInRing(target: string, firsts: Neighbours, thens: Neighbours): boolean {
	const ahead = searchFrom(target, thens);
	const behind = searchFrom(target, firsts);
	for (;;) {
		const onward = ahead.next();
		if (onward.done) return onward.value;
		const backward = behind.next();
		if (backward.done) return backward.value;
	}
}

/** Goes on step by step; ends with whether it came back to where it began. */
function* searchFrom(target: string, next: Neighbours): Generator<undefined, boolean> {
	const seen = new Set<string>();
	const queue = [target];
	for (const at of queue) {
		for (const other of next(at)) {
			if (other === target) return true;
			if (seen.has(other)) continue;
			seen.add(other);
			queue.push(other);
		}
		yield;
	}
	return false;
}

/** What lies in or behind a ring: what is left when the free are taken away, again and again. */
function notFree(targets: readonly string[], firsts: Neighbours): ReadonlySet<string> {
	// By number and in flat lists: this runs through all of a boat's orders.
	const number = new Map(targets.map((target, at) => [target, at]));
	const waiting = new Int32Array(targets.length);
	const last = new Int32Array(targets.length).fill(-1);
	const thens: number[] = [];
	const earlier: number[] = [];
	for (const [then, target] of targets.entries())
		for (const before of firsts(target)) {
			const first = number.get(before);
			// What nobody wrote down waits for nothing and is no target of its own.
			if (first === undefined) continue;
			waiting[then] = (waiting[then] ?? 0) + 1;
			earlier.push(last[first] ?? -1);
			last[first] = thens.push(then) - 1;
		}
	const free = [...targets.keys()].filter((at) => waiting[at] === 0);
	for (const at of free)
		for (let link = last[at] ?? -1; link >= 0; link = earlier[link] ?? -1) {
			const then = thens[link] ?? 0;
			waiting[then] = (waiting[then] ?? 0) - 1;
			if (waiting[then] === 0) free.push(then);
		}
	return new Set(targets.filter((_, at) => waiting[at] !== 0));
}

/** Everything that can be reached, each with what it was reached from; the start too, in a ring. */
function reached(from: string, next: Neighbours, among: ReadonlySet<string>): Map<string, string> {
	const came = new Map<string, string>();
	const queue = [from];
	for (const at of queue)
		for (const other of next(at)) {
			if (!among.has(other) || came.has(other)) continue;
			came.set(other, at);
			if (other !== from) queue.push(other);
		}
	return came;
}

function walkedBack(came: ReadonlyMap<string, string>, target: string, last: string): string[] {
	const ring = [last];
	for (let at = last; at !== target; ) {
		at = came.get(at) ?? target;
		ring.unshift(at);
	}
	return ring;
}
