/** Records that lie within one another: compartments in the boat, crates on shelves.
 *
 * Two phones can move A under B and B under A while apart. No walk here may hang on such a ring:
 * each stops where it would repeat.
 */

export interface Node {
	readonly key: string;
	readonly name: string | null;
	readonly within: string | null;
}

export type NodeMap<N extends Node = Node> = ReadonlyMap<string, N>;

/** Names from the outermost inwards; empty for an unknown key. */
export function pathOf(nodes: NodeMap, key: string | null): string[] {
	return keysUpwards(nodes, key)
		.map((at) => nodes.get(at)?.name ?? "unnamed")
		.reverse();
}

/** True when `key` is `above` or lies anywhere under it. */
export function isUnder(nodes: NodeMap, key: string | null, above: string): boolean {
	return keysUpwards(nodes, key).includes(above);
}

/** Why `key` can't be moved into `within`, in words; null if it can. */
export function withinFault(nodes: NodeMap, key: string, within: string | null): string | null {
	if (within === null || !isUnder(nodes, within, key)) return null;
	const name = nodes.get(key)?.name || "It";
	if (within === key) return `${name} can't lie in itself. It stays where it was.`;
	const into = nodes.get(within)?.name || "what is unnamed";
	return `${name} can't lie in ${into}, which lies in it. It stays where it was.`;
}

export interface Branch<N extends Node> {
	readonly node: N;
	/** 0 for the outermost. */
	readonly depth: number;
}

/** All nodes, each after the one it lies in, siblings in the order of `compare`. */
export function flatten<N extends Node>(
	nodes: NodeMap<N>,
	compare: (a: N, b: N) => number = byName,
): Branch<N>[] {
	const under = new Map<string | null, N[]>();
	for (const node of nodes.values()) {
		const parent = isRoot(nodes, node) ? null : node.within;
		under.set(parent, [...(under.get(parent) ?? []), node]);
	}
	const found: Branch<N>[] = [];
	const walk = (parent: string | null, depth: number): void => {
		for (const node of (under.get(parent) ?? []).sort(compare)) {
			found.push({ node, depth });
			walk(node.key, depth + 1);
		}
	};
	walk(null, 0);
	return found;
}

/** Rings that two phones made while apart, each from its first node outwards. */
export function ringsWithin<N extends Node>(nodes: NodeMap<N>): readonly (readonly N[])[] {
	const found: N[][] = [];
	const seen = new Set<string>();
	for (const node of nodes.values()) {
		if (seen.has(node.key) || !isUnder(nodes, node.within, node.key)) continue;
		const keys = keysUpwards(nodes, node.key);
		for (const key of keys) seen.add(key);
		found.push(keys.map((key) => nodes.get(key) as N));
	}
	return found;
}

/** Outermost, dangling, or part of a ring: then it has no place under another. */
function isRoot(nodes: NodeMap, node: Node): boolean {
	if (node.within === null || !nodes.has(node.within)) return true;
	return isUnder(nodes, node.within, node.key);
}

function byName(a: Node, b: Node): number {
	return (a.name ?? "").localeCompare(b.name ?? "", "en-GB", { numeric: true });
}

function keysUpwards(nodes: NodeMap, key: string | null): string[] {
	const seen: string[] = [];
	let at = key;
	while (at !== null && nodes.has(at) && !seen.includes(at)) {
		seen.push(at);
		at = nodes.get(at)?.within ?? null;
	}
	return seen;
}
