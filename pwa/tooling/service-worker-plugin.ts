/**
 * Builds the service worker last, with the list of every file of the client and a digest of it.
 *
 * One list for the whole client: what is built is kept, so nothing can be forgotten and the phone
 * works offline from its first visit. The digest names the cache, so that two versions never mix.
 */
import { createHash } from "node:crypto";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { build, type Plugin, type ResolvedConfig } from "vite";
import { filesBelow } from "./files.ts";

interface Options {
	/** Source of the worker, from the root of the client. */
	readonly entry: string;
	/** Name in the output folder; never hashed, since its address must not change. */
	readonly fileName: string;
}

export function serviceWorker({ entry, fileName }: Options): Plugin {
	let config: ResolvedConfig;
	return {
		name: "shedtally-service-worker",
		apply: "build",
		configResolved(resolved) {
			config = resolved;
		},
		async closeBundle() {
			if (config.build.ssr) return;
			const folder = join(config.root, config.build.outDir);
			const files = filesBelow(folder).filter((file) => file !== fileName);
			await build({
				configFile: false,
				root: config.root,
				publicDir: false,
				logLevel: "warn",
				define: {
					__FILES__: JSON.stringify(files),
					__VERSION__: JSON.stringify(digest(folder, files, join(config.root, entry))),
				},
				build: {
					outDir: config.build.outDir,
					emptyOutDir: false,
					target: config.build.target,
					lib: { entry, formats: ["iife"], name: "worker", fileName: () => fileName },
				},
			});
		},
	};
}

/** Changes with any file of the client and with the worker's own source. */
function digest(folder: string, files: readonly string[], source: string): string {
	const hash = createHash("sha256").update(readFileSync(source));
	for (const file of files) hash.update(`${file}\0`).update(readFileSync(join(folder, file)));
	return hash.digest("hex").slice(0, 16);
}
