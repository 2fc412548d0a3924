/** Which server this phone belongs to, and which boats are there. */
import { type ReadonlySignal, signal } from "@preact/signals";
import type { Boat } from "../domain/contract.ts";
import { uuid7 } from "../domain/key.ts";
import { choose, keep } from "../storage/boat.ts";
import { writeStores } from "../storage/db.ts";
import { boat } from "../storage/memory.ts";
import {
	getMeta,
	type KeptSession,
	noteMeta,
	putMeta,
	type Received,
	readMeta,
	type SecondCopy,
} from "../storage/meta.ts";
import { hearTabs, tellTabs } from "../storage/tabs.ts";
import { call } from "./http.ts";
import { syncNow } from "./now.ts";
import { resendAll } from "./restore.ts";

export interface BoatName {
	readonly key: string;
	readonly name: string;
}

export interface Session {
	/** False before the first pairing and after the server has forgotten this phone. */
	readonly paired: boolean;
	/** UUID of this phone. */
	readonly device: string;
	readonly deviceName: string;
	/** The id of the server that this phone belongs to; null before the first pairing. */
	readonly server: string | null;
	readonly boats: readonly BoatName[];
	/** What the server last said it has of this phone's changes; null before it did. */
	readonly received: Received | null;
}

interface SessionAnswer {
	readonly device: string;
	readonly name?: string;
	readonly server: string;
	readonly boats: readonly BoatName[];
	// An older server says nothing of these.
	readonly last_seq?: number;
	readonly complete_to?: number;
	readonly missing?: readonly (readonly [number, number])[];
	readonly copies?: readonly SecondCopy[];
}

const held = signal<Session>({
	paired: false,
	device: "",
	deviceName: "",
	server: null,
	boats: [],
	received: null,
});

export const session: ReadonlySignal<Session> = held;

let paired = 0;

/** Load what is known of the server; once, at start. Makes this phone's id at the first start. */
export async function loadSession(): Promise<void> {
	// A full phone must open all the same, so nothing is written that is there already.
	const device = (await readMeta("device")) ?? (await makeDevice());
	held.value = { ...held.value, device };
	await reread();
	hearTabs((message) => {
		if (message.kind === "paired") paired += 1;
		if (message.kind === "session") void reread();
	});
}

/**
 * Pair this phone with the server by a one-time code.
 *
 * What waits in the outbox stays and is sent after it, also to another server than before.
 * Throws SyncTrouble; its `answer.detail` says what is wrong with the code.
 */
export async function pair(code: string, name: string): Promise<void> {
	const { device, server: before } = held.value;
	const answer = await call<SessionAnswer>("/api/pair", {
		method: "POST",
		json: { code: code.trim(), device, name },
	});
	paired += 1;
	tellTabs({ kind: "paired" });
	if (before !== null && before !== answer.server) await resendAll();
	await remember({ ...held.value, paired: true, deviceName: name, ...serverPart(answer) });
	const only = answer.boats.length === 1 ? answer.boats[0] : undefined;
	if (boat.key.value === null && only) await choose(only.key);
	void syncNow();
}

/** Ask the server which boats there are. Throws SyncTrouble ("pair again" if it forgot us). */
export async function refreshSession(): Promise<void> {
	const answer = await call<SessionAnswer>("/api/session");
	const deviceName = answer.name ?? held.value.deviceName;
	await remember({ ...held.value, paired: true, deviceName, ...serverPart(answer) });
}

/** How often this phone was paired, on any page, since this one was opened. What was asked before the last time says nothing of now. */
export function pairings(): number {
	return paired;
}

/** The server no longer knows this phone; capture goes on, sending waits for a new pairing. */
export async function forgetPairing(): Promise<void> {
	if (held.value.paired) await remember({ ...held.value, paired: false });
}

/** Work on this boat, and receive its records when the server can be reached. */
export async function chooseBoat(key: string): Promise<void> {
	await choose(key);
	void syncNow();
}

/** A new boat, made on this phone; works without the server. Returns its key. */
export async function createBoat(values: Partial<Omit<Boat, "key">>): Promise<string> {
	const key = uuid7(Date.now());
	await choose(key);
	await keep([{ table: "boat", key, set: values }]);
	const name = values.name ?? "Unnamed boat";
	await remember({ ...held.value, boats: [...held.value.boats, { key, name }] });
	return key;
}

function serverPart(answer: SessionAnswer): Pick<Session, "server" | "boats" | "received"> {
	// A boat made here may not have reached the server yet.
	const known = new Set(answer.boats.map(({ key }) => key));
	const mine = held.value.boats.filter(({ key }) => key === boat.key.value && !known.has(key));
	return {
		server: answer.server,
		boats: [...answer.boats, ...mine],
		received: receivedOf(answer),
	};
}

function receivedOf(answer: SessionAnswer): Received | null {
	const { last_seq: last, complete_to: completeTo, missing = [], copies = [] } = answer;
	if (last === undefined || completeTo === undefined) return null;
	const lacking = missing.reduce((sum, [from, to]) => sum + to - from + 1, 0);
	return { last, completeTo, missing: lacking, copies };
}

function makeDevice(): Promise<string> {
	return writeStores(["meta"], async (tx) => {
		const known = (await getMeta(tx, "device")) ?? uuid7(Date.now());
		await putMeta(tx, "device", known);
		return known;
	});
}

async function remember(next: Session): Promise<void> {
	const { paired, deviceName, server, boats, received } = next;
	const all: KeptSession = { paired, device_name: deviceName, server, boats };
	const kept = received ? { ...all, received } : all;
	await noteMeta("session", kept);
	held.value = next;
	tellTabs({ kind: "session" });
}

async function reread(): Promise<void> {
	const kept = await readMeta("session");
	if (!kept) return;
	const { paired, device_name: deviceName, server, boats, received = null } = kept;
	held.value = { ...held.value, paired, deviceName, server, boats, received };
}
