import { readdirSync } from "node:fs";
import { join, relative, sep } from "node:path";

/** Paths of all files below `folder`, with forward slashes, in a fixed order. */
export function filesBelow(folder: string): string[] {
	return readdirSync(folder, { recursive: true, withFileTypes: true })
		.filter((entry) => entry.isFile())
		.map((entry) => relative(folder, join(entry.parentPath, entry.name)).split(sep).join("/"))
		.sort();
}
