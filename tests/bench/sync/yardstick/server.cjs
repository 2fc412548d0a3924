/** The yardstick's server, with its page: `node server.cjs PORT MODULES`; all in memory, its best. */
const { createRequire } = require("node:module");
const { join } = require("node:path");
const [port, modules] = process.argv.slice(2);
const load = createRequire(join(modules, "package.json"));
const PouchDB = load("pouchdb").plugin(load("pouchdb-adapter-memory"));
const express = load("express");

const app = express();
app.get("/pouchdb.js", (_request, response) =>
	response.sendFile(join(modules, "node_modules/pouchdb/dist/pouchdb.min.js")),
);
app.get("/page.js", (_request, response) => response.sendFile(join(__dirname, "page.js")));
app.get("/", (_request, response) =>
	response.send(
		'<!doctype html><link rel="icon" href="data:,"><script src="/pouchdb.js"></script><script src="/page.js"></script>',
	),
);
const options = { mode: "minimumForPouchDB", inMemoryConfig: true, logPath: "/dev/null" };
app.use("/db", load("express-pouchdb")(PouchDB.defaults({ adapter: "memory" }), options));
app.listen(Number(port), "127.0.0.1");
