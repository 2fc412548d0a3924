/** This phone's clock follows what it is told, so that its next edit comes after all it has seen. */
import { FIRST_STAMP, witness } from "../domain/stamp.ts";
import type { WriteTx } from "../storage/db.ts";
import { getMeta, putMeta } from "../storage/meta.ts";

/** Let this phone's clock follow the stamps it has seen, in a transaction of the caller. */
export async function witnessAll(tx: WriteTx, stamps: readonly string[]): Promise<void> {
	const now = Date.now() + ((await getMeta(tx, "clock_offset_ms")) ?? 0);
	let clock = (await getMeta(tx, "clock")) ?? FIRST_STAMP;
	for (const stamp of stamps) clock = witness(clock, stamp, now);
	await putMeta(tx, "clock", clock);
}
