/**
 * Fails if the first load of the client is too heavy: `node tooling/budget.ts` after a build.
 *
 * Counted is everything but the decoder (its wasm and its worker), which is loaded once and kept.
 */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { gzipSync } from "node:zlib";
import { filesBelow } from "./files.ts";

const FOLDER = join(import.meta.dirname, "../../server/shedtally/web/client");
const LIMIT_BYTES = 250_000;
const DECODER = /\.wasm$|scan\.worker/;
/** Pictures that only the phone's home screen asks for. */
const LATER = /^icons\/.*\.png$/;

const sizes = filesBelow(FOLDER)
	.filter((file) => !DECODER.test(file) && !LATER.test(file))
	.map((file) => ({ file, bytes: gzipSync(readFileSync(join(FOLDER, file))).byteLength }));
const total = sizes.reduce((sum, { bytes }) => sum + bytes, 0);

for (const { file, bytes } of sizes) console.log(`${String(bytes).padStart(8)}  ${file}`);
console.log(`${String(total).padStart(8)}  first load, gzip, without the decoder`);
if (total > LIMIT_BYTES) {
	console.error(`The first load may have ${LIMIT_BYTES} bytes. Load something later.`);
	process.exit(1);
}
if (total < 5_000) {
	console.error("There is no built client here. Run the build first.");
	process.exit(1);
}
