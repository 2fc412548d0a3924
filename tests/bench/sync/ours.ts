/** Our client for the benchmark: its real storage and sync, without the screens. */
import type { Edit } from "../../../pwa/src/domain/change.ts";
import { boat, choose, keep } from "../../../pwa/src/storage/boat.ts";
import { pullChanges } from "../../../pwa/src/sync/pull.ts";
import { pushChanges } from "../../../pwa/src/sync/push.ts";
import { loadSession, session } from "../../../pwa/src/sync/session.ts";

async function timed(work: () => Promise<unknown>): Promise<number> {
	const from = performance.now();
	await work();
	return performance.now() - from;
}

const KEEP_AT_ONCE = 500;

const bench = {
	/** Pair this browser and work on the boat `key`; nothing is sent or received yet. */
	async begin(key: string, { code }: { code: string }): Promise<string> {
		await loadSession();
		const answer = await fetch("/api/pair", {
			method: "POST",
			headers: { "Content-Type": "application/json", "X-Shedtally": "1" },
			body: JSON.stringify({ code, device: session.value.device, name: "bench" }),
		});
		if (!answer.ok) throw new Error(await answer.text());
		await choose(key);
		return key;
	},
	/** Keep edits as the screens do: records, log and outbox in one transaction. */
	async keep(edits: readonly Edit[]): Promise<void> {
		for (let at = 0; at < edits.length; at += KEEP_AT_ONCE) {
			await keep(edits.slice(at, at + KEEP_AT_ONCE));
		}
	},
	push: () => timed(pushChanges),
	pull: () => timed(() => pullChanges(boat.key.value ?? "")),
	held: async () => boat.table("item").value.size,
};

Object.assign(globalThis, { bench });
