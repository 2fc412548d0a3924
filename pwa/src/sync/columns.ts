/**
 * A page of a snapshot as the server sends it, by columns, into records.
 *
 * Records of one table with the same fields stand together: first their keys, then all values of
 * the first field, and so on; versions likewise. The server's counterpart is
 * `server/shedtally/web/columns.py`; `fixtures/contract/snapshot.json` holds both to one form.
 */
import type { Version } from "../domain/change.ts";
import type { JsonValue } from "../domain/contract.ts";
import { stampOf } from "../domain/stamp.ts";
import type { PackedRecord } from "../storage/db.ts";

export interface Columns {
	readonly records: readonly Group[];
	readonly devices: readonly string[];
	readonly versions: Versions;
}

/** Records of one table with the same fields. */
interface Group {
	readonly table: string;
	readonly fields: readonly string[];
	/** UUIDs of 32 digits one after the other, or a list of other keys. */
	readonly keys: string | readonly string[];
	/** A list for each field. */
	readonly values: readonly (readonly JsonValue[])[];
	/** For each record one number, or one for each field: 0 the next new version, n the n-th. */
	readonly versions: readonly (number | readonly number[])[];
}

interface Versions {
	/** Milliseconds after the version before; the first after 1970. */
	readonly ms: readonly number[];
	readonly counters: readonly number[];
	/** Places in the list of devices. */
	readonly devices: readonly number[];
	/** The ids of all changes, 32 digits each. */
	readonly changes: string;
}

const DIGITS = 32;

/** The records of a page, and all versions in it. Throws RangeError if the page is not whole. */
export function rowsOf({ records, devices, versions }: Columns): {
	records: PackedRecord[];
	versions: Version[];
} {
	const all = versionsOf(devices, versions);
	let met = 0;
	const versionOf = (number: number | undefined): Version => {
		const version = number === 0 ? all[met++] : all[(number ?? 0) - 1];
		if (!version) throw new RangeError(`the page has no version ${number}`);
		return version;
	};
	return { records: records.flatMap((group) => recordsIn(group, versionOf)), versions: all };
}

function recordsIn(
	{ table, fields, keys: named, values, versions }: Group,
	versionOf: (number: number | undefined) => Version,
): PackedRecord[] {
	const keys = typeof named === "string" ? uuidsIn(named) : named;
	if ([versions, ...values].some((column) => column.length !== keys.length)) {
		throw new RangeError(`the columns of ${table} differ in length`);
	}
	return keys.map((key, at): PackedRecord => {
		const record: Record<string, JsonValue> = {};
		for (let place = 0; place < fields.length; place++) {
			record[fields[place] as string] = values[place]?.[at] ?? null;
		}
		const by = versions[at];
		if (typeof by !== "object") return [table, key, record, versionOf(by)];
		const each = fields.map((field, place) => [field, versionOf(by[place])]);
		return [table, key, record, Object.fromEntries(each)];
	});
}

function versionsOf(devices: readonly string[], versions: Versions): Version[] {
	let ms = 0;
	return uuidsIn(versions.changes).map((id, at): Version => {
		const step = versions.ms[at];
		const device = devices[versions.devices[at] ?? -1];
		if (step === undefined || device === undefined) throw new RangeError(`${id} has no author`);
		ms += step;
		return [stampOf(ms, versions.counters[at]), device, id];
	});
}

function uuidsIn(digits: string): string[] {
	const found: string[] = [];
	for (let at = 0; at + DIGITS <= digits.length; at += DIGITS) {
		const one = digits.slice(at, at + DIGITS);
		const parts = [one.slice(0, 8), one.slice(8, 12), one.slice(12, 16), one.slice(16, 20)];
		found.push(`${parts.join("-")}-${one.slice(20)}`);
	}
	return found;
}
