/** Keys of records and changes: UUID version 7, made on the phone. */

/**
 * A new UUIDv7 for `now_ms` (milliseconds since 1970).
 *
 * From `getRandomValues`, because `randomUUID` is missing on plain http. Keys made in the same
 * millisecond are in no particular order.
 */
export function uuid7(now_ms: number): string {
	const bytes = crypto.getRandomValues(new Uint8Array(16));
	let rest = now_ms;
	for (let at = 5; at >= 0; at--) {
		bytes[at] = rest % 256;
		rest = Math.floor(rest / 256);
	}
	bytes[6] = 0x70 | ((bytes[6] ?? 0) & 0x0f);
	bytes[8] = 0x80 | ((bytes[8] ?? 0) & 0x3f);
	const hex = Array.from(bytes, (byte) => byte.toString(16).padStart(2, "0")).join("");
	return [0, 8, 12, 16, 20]
		.map((from, at, starts) => hex.slice(from, starts[at + 1] ?? 32))
		.join("-");
}
