import { defineConfig } from "vitest/config";
import { serviceWorker } from "./tooling/service-worker-plugin.ts";

export default defineConfig({
	plugins: [serviceWorker({ entry: "src/sw/service-worker.ts", fileName: "sw.js" })],
	oxc: { jsx: { runtime: "automatic", importSource: "preact" } },
	build: {
		outDir: "../server/shedtally/web/client",
		emptyOutDir: true,
		target: ["chrome111", "safari16.4", "firefox115"],
		// The decoder must stay a file of its own, fetched once and kept by the service worker.
		assetsInlineLimit: 0,
	},
	worker: { format: "es" },
	server: { proxy: { "/api": "http://127.0.0.1:8765", "/setup": "http://127.0.0.1:8765" } },
	// A busy machine must not fail what only takes long.
	test: {
		include: ["src/**/*.test.ts"],
		environment: "node",
		testTimeout: 60_000,
		hookTimeout: 60_000,
	},
});
