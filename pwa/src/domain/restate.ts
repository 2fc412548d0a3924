/**
 * What a snapshot told of a change, said again as a change: for a server that has lost it.
 *
 * A snapshot holds for each field the value that stands and its version, but neither the author's
 * running number nor fields that others have overwritten since. So this is a part of the change,
 * under its author's stamp and device; it merges as the change itself, wherever that turns up.
 * Id and number follow from what it says, so that phones which say the same say it once.
 */
import { sha256 } from "@noble/hashes/sha2.js";
import { bytesToHex, utf8ToBytes } from "@noble/hashes/utils.js";
import type { Change, State, Version } from "./change.ts";
import type { JsonValue } from "./contract.ts";

interface Named extends State {
	readonly table: string;
	readonly key: string;
}

/** A change for each version that stands in `record`, with the fields that it wrote. */
export function restated({ table, key, values, versions }: Named): Change[] {
	const byChange = new Map<string, { version: Version; set: Record<string, JsonValue> }>();
	for (const field of Object.keys(versions).sort()) {
		const version = versions[field] as Version;
		const told = byChange.get(version[2]) ?? { version, set: {} };
		told.set[field] = values[field] ?? null;
		byChange.set(version[2], told);
	}
	return [...byChange.values()].map(({ version: [stamp, device, restates], set }) => ({
		...namesOf(restates, Object.keys(set)),
		device,
		stamp,
		table,
		key,
		set,
		base: 0,
		restates,
	}));
}

/** A UUID of version 8 (RFC 9562, from SHA-256) and a number below 0, from what is restated. */
function namesOf(restates: string, fields: readonly string[]): { id: string; seq: number } {
	const bytes = sha256(utf8ToBytes([restates, ...fields].join("\n")));
	// 52 bits: 13 digits, which a number holds exactly.
	const seq = -1 - Number.parseInt(bytesToHex(bytes.subarray(16, 23)).slice(0, 13), 16);
	bytes[6] = 0x80 | ((bytes[6] ?? 0) & 0x0f);
	bytes[8] = 0x80 | ((bytes[8] ?? 0) & 0x3f);
	const hex = bytesToHex(bytes.subarray(0, 16));
	const parts = [hex.slice(0, 8), hex.slice(8, 12), hex.slice(12, 16), hex.slice(16, 20)];
	return { id: `${parts.join("-")}-${hex.slice(20)}`, seq };
}
