/** The yardstick without a browser, stores in memory: `node node.cjs ORIGIN MODULES RECORDS`. */
const { readFileSync } = require("node:fs");
const { createRequire } = require("node:module");
const { join } = require("node:path");
const [origin, modules, file] = process.argv.slice(2);
const load = createRequire(join(modules, "package.json"));
globalThis.PouchDB = load("pouchdb").plugin(load("pouchdb-adapter-memory"));
require("./page.js");

async function main() {
	const records = JSON.parse(readFileSync(file, "utf-8"));
	const more = records.splice(-100);
	const options = { origin, store: { adapter: "memory" } };
	const name = `node-${Date.now()}`;
	await bench.begin(name, options);
	await bench.keep(records);
	const push = await bench.push();
	await bench.begin(name, options);
	const pull = await bench.pull();
	const nothing = await bench.pull();
	await bench.begin(name, options);
	await bench.keep(more);
	await bench.push();
	console.log(JSON.stringify({ push, pull, nothing }));
	process.exit();
}
main();
