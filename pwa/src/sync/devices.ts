/** Other phones of the same server: who is in, an invitation, a name, and shutting one out. */
import { type ReadonlySignal, signal } from "@preact/signals";
import { readStores, writeStores } from "../storage/db.ts";
import { call, send } from "./http.ts";

export interface PairedPhone {
	readonly device: string;
	readonly name: string;
	/** ISO 8601. */
	readonly last_seen: string | null;
	readonly revoked: boolean;
	/** The running number of its last change that the server has. */
	readonly last_seq?: number;
}

export interface Invitation {
	readonly code: string;
	/** ISO 8601. */
	readonly expires_at: string;
	/** Opens the pairing page with the code in the fragment, which no server log sees. */
	readonly url: string;
}

/** Names belong to the server and not to one boat, so no boat's key stands here. */
const ROW = ["", "phones"] as const;

const held = signal<readonly PairedPhone[]>([]);
const names = signal<ReadonlyMap<string, string>>(new Map());

/** Every phone that was ever paired, as last heard. */
export const phones: ReadonlySignal<readonly PairedPhone[]> = held;

/** Names of phones by device, for use with no signal. */
export const phoneNames: ReadonlySignal<ReadonlyMap<string, string>> = names;

/** What was heard last; once, at start. */
export async function loadPhones(): Promise<void> {
	const row = await readStores(["list"], (tx) => tx.objectStore("list").get([...ROW]));
	show((row?.list as readonly PairedPhone[] | undefined) ?? []);
}

/** Ask the server for every phone that was ever paired. Throws SyncTrouble, StorageFault. */
export async function refreshPhones(): Promise<void> {
	const list = await call<PairedPhone[]>("/api/devices");
	const [boat, name] = ROW;
	await writeStores(["list"], async (tx) => {
		await tx.objectStore("list").put({ boat, name, list, cursor: 0, made_at: "" });
	});
	show(list);
}

/** A one-time code for one more phone. Throws SyncTrouble. */
export function invite(): Promise<Invitation> {
	return call<Invitation>("/api/pairing-codes", { method: "POST", json: {} });
}

/** Shut a phone out from its next request on. Throws SyncTrouble. */
export async function shutOut(device: string): Promise<void> {
	await send(`/api/devices/${encodeURIComponent(device)}/revoke`, { method: "POST" });
}

/** Give a phone another name, which the history shows from then on. Throws SyncTrouble. */
export async function rename(device: string, name: string): Promise<void> {
	const path = `/api/devices/${encodeURIComponent(device)}/rename`;
	await send(path, { method: "POST", json: { name } });
}

function show(list: readonly PairedPhone[]): void {
	held.value = list;
	names.value = new Map(list.map(({ device, name }) => [device, name]));
}
