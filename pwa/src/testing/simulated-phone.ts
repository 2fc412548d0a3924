/**
 * One phone of the simulation: the app's own storage and sync, without its screens.
 *
 * It is bundled and started once for every start of a phone, so that each has modules of its own.
 */
import { effect } from "@preact/signals";
import { openAll } from "../boot.ts";
import { type Change, type Edit, versionOf } from "../domain/change.ts";
import { fold } from "../domain/merge.ts";
import { isOnSecondPhone } from "../screens/common/whereItIs.ts";
import { allStates } from "../storage/blocks.ts";
import { boat, keep, type TableName } from "../storage/boat.ts";
import { type ReadTx, readStores, type StoreName } from "../storage/db.ts";
import { getCursor, getMeta } from "../storage/meta.ts";
import type { KeptPhoto } from "../storage/photos.ts";
import { rescueFile } from "../sync/rescue.ts";
import { createBoat, pair, session } from "../sync/session.ts";
import { sendAgain, syncNow, syncState } from "../sync/state.ts";

export interface SentPhoto {
	readonly sha256: string;
	readonly type: string;
	readonly base64: string;
}

/** What the phone has seen and what number its next change will have. */
interface Sight {
	readonly device: string;
	readonly seq: number;
	readonly base: number;
	readonly seen: readonly string[];
}

const STORES: StoreName[] = ["meta", "change", "outbox", "rejected", "photo", "photo_outbox"];

/** What the host may ask of a phone, by name. */
export const commands: Record<string, (given: never) => Promise<unknown>> = {
	async pair({ code, name }: { code: string; name: string }) {
		await pair(code, name);
		await rest();
		return told();
	},
	async createBoat({ name }: { name: string }) {
		return createBoat({ name });
	},
	async sync() {
		await syncNow();
		return told();
	},
	sight,
	async keep({ edits, photos }: { edits: Edit[]; photos: SentPhoto[] }) {
		const before = await sight();
		await keep(edits, photos.map(keptPhoto));
		return { ...before, shown: await shown(edits) };
	},
	async sendAgain({ id }: { id: string }) {
		await sendAgain(id);
	},
	async fold({ changes }: { changes: Change[] }) {
		return fold(changes);
	},
	dump,
	async rescue() {
		const blob = await rescueFile();
		return base64(new Uint8Array(await blob.arrayBuffer()));
	},
};

/** Start the app; throws what its start throws. */
export async function start(): Promise<string> {
	await openAll();
	return session.value.device;
}

/** Resolves when no round of sync is running. */
async function rest(): Promise<void> {
	let stop = () => {};
	await new Promise<void>((resolve) => {
		stop = effect(() => {
			if (!syncState.value.running) resolve();
		});
	});
	stop();
}

function told() {
	const { problem, unsentChanges, unsentPhotos, rejected } = syncState.value;
	return {
		problem: problem?.kind ?? null,
		unsentChanges,
		unsentPhotos,
		rejected: rejected.length,
		paired: session.value.paired,
		secondPhone: secondPhone(),
	};
}

/** The phone that the screens say has every edit of this one; null if they say so of none. */
function secondPhone(): string | null {
	const { received } = session.value;
	const of = boat.key.value;
	if (!isOnSecondPhone(syncState.value, received, of)) return null;
	return received?.copies.find((copy) => copy.boat === of)?.name ?? null;
}

async function sight(): Promise<Sight> {
	const of = boat.key.value ?? "";
	return readStores(["meta", "change", "record", "block"], async (tx) => {
		const [device, seq, base, changes, records] = await Promise.all([
			getMeta(tx, "device"),
			getMeta(tx, "seq"),
			getCursor(tx, of),
			tx.objectStore("change").getAll(),
			allStates(tx, of),
		]);
		// What came as a snapshot is known by its versions, not by its changes.
		const versions = records.flatMap((row) => Object.values(row.versions).map(([, , id]) => id));
		const seen = [...new Set([...changes.map((one) => versionOf(one)[2]), ...versions])];
		return { device: device ?? "", seq: seq ?? 0, base, seen };
	});
}

/** The values of edited fields as the phone has them now: as stored, and as the screens see them. */
async function shown(edits: readonly Edit[]) {
	const of = boat.key.value ?? "";
	// What was just kept lies over any snapshot, as a row.
	const rows = await readStores(["record"], (tx) =>
		Promise.all(edits.map(({ table, key }) => tx.objectStore("record").get([of, table, key]))),
	);
	return edits.map(({ table, key }, at) => ({
		values: rows[at]?.values ?? {},
		inMemory: boat.table(table).value.has(key),
	}));
}

async function dump() {
	const of = boat.key.value ?? "";
	const stores = await readStores(STORES, (tx) => Promise.all(STORES.map((name) => all(tx, name))));
	const record = await readStores(["record", "block"], (tx) => allStates(tx, of));
	// What another page told is shown once it has been read, which may still be under way.
	for (let turn = 0; turn < 50; turn += 1) {
		await readStores(["record", "block"], (tx) => tx.objectStore("record").count());
	}
	const tables = ["item", "tag", "note", "place"] as const satisfies readonly TableName[];
	const inMemory = tables.flatMap((table) =>
		[...boat.table(table).value.keys()].map((key) => `${table}/${key}`),
	);
	return { ...Object.fromEntries(STORES.map((name, at) => [name, stores[at]])), record, inMemory };
}

async function all(tx: ReadTx, name: StoreName): Promise<unknown> {
	const store = tx.objectStore(name);
	if (name !== "meta" && name !== "photo") return store.getAll();
	const [keys, values] = await Promise.all([store.getAllKeys(), store.getAll()]);
	if (name === "meta") return Object.fromEntries(keys.map((key, at) => [key, values[at]]));
	return keys;
}

function keptPhoto({ sha256, type, base64 }: SentPhoto): KeptPhoto {
	const bytes = Uint8Array.from(atob(base64), (sign) => sign.charCodeAt(0)).buffer;
	return { sha256, type, bytes, thumbnail: bytes, width: 8, height: 8 };
}

function base64(bytes: Uint8Array): string {
	return btoa(Array.from(bytes, (byte) => String.fromCharCode(byte)).join(""));
}
