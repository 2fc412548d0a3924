import { existsSync, globSync, readFileSync } from "node:fs";
import { dirname, resolve } from "node:path";
import { fileURLToPath } from "node:url";
import { expect, it } from "vitest";

// Types alone are erased before anything runs, so an import of nothing else joins no modules.
const IMPORT = /^(?:import|export)\s+(?!type\b)([^;"]*?)(?:from\s+)?"(\.[^"]+)";/gm;
const TYPES_ALONE = /^\{(\s*type\s+[^,}]+,?)*\s*\}\s*$/;

type Graph = ReadonlyMap<string, readonly string[]>;

function importsOf(file: string): string[] {
	const found = [...readFileSync(file, "utf8").matchAll(IMPORT)];
	return found
		.filter(([, names = ""]) => !TYPES_ALONE.test(names))
		.map(([, , path = ""]) => resolve(dirname(file), path))
		.filter((path) => existsSync(path));
}

/** The first ring of modules that load each other, or nothing. */
function ring(graph: Graph): readonly string[] {
	const done = new Set<string>();
	const visit = (at: string, way: readonly string[]): readonly string[] => {
		if (way.includes(at)) return [...way.slice(way.indexOf(at)), at];
		if (done.has(at)) return [];
		for (const next of graph.get(at) ?? []) {
			const found = visit(next, [...way, at]);
			if (found.length > 0) return found;
		}
		done.add(at);
		return [];
	};
	for (const at of graph.keys()) {
		const found = visit(at, []);
		if (found.length > 0) return found;
	}
	return [];
}

it("no module loads itself by way of others", () => {
	const root = fileURLToPath(new URL(".", import.meta.url));
	const files = globSync("**/*.{ts,tsx}", { cwd: root }).map((name) => resolve(root, name));
	const own = files.filter((name) => !name.includes(".test."));
	expect(own.length).toBeGreaterThan(200);
	const graph: Graph = new Map(own.map((file) => [file, importsOf(file)]));
	const joined = [...graph.values()].reduce((sum, all) => sum + all.length, 0);
	expect(joined).toBeGreaterThan(1_000);
	expect(ring(graph).map((file) => file.slice(root.length))).toEqual([]);
});

it("a ring is told by its members", () => {
	const graph = new Map([
		["a", ["b", "d"]],
		["b", ["c"]],
		["c", ["b"]],
		["d", []],
	]);
	expect(ring(graph)).toEqual(["b", "c", "b"]);
});
