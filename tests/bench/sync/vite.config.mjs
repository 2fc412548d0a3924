/** Builds ours.ts into one file, as small as the product's own: `vite build --config THIS --outDir FOLDER`. */
import { join } from "node:path";

export default {
	configFile: false,
	root: import.meta.dirname,
	publicDir: false,
	logLevel: "warn",
	build: {
		target: ["chrome111", "safari16.4", "firefox115"],
		emptyOutDir: true,
		lib: {
			entry: join(import.meta.dirname, "ours.ts"),
			formats: ["es"],
			fileName: () => "assets/bench.js",
		},
	},
};
