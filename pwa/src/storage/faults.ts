/**
 * What can go wrong while keeping something on the phone.
 *
 *     StorageFault
 *     ├── StorageFull    no room; nothing of this keep was written
 *     ├── StorageLost    the browser's database does not answer; nothing of this keep was written
 *     └── Unkeepable     a value that the record can't hold, found before anything was written
 */
import type { Fault } from "../domain/shape.ts";

export class StorageFault extends Error {}

export class StorageFull extends StorageFault {
	override readonly name = "StorageFull";
	constructor() {
		super(
			"This phone has no room left, so this was not kept. Everything kept before is safe. " +
				"Go where there is a signal and send what waits, or free some space on the phone, then keep it again.",
		);
	}
}

export class StorageLost extends StorageFault {
	override readonly name = "StorageLost";
	constructor(options?: ErrorOptions) {
		super(
			"The browser's storage does not answer, so this was not kept. Everything kept before is safe. " +
				"Close the app completely, open it again, and keep this once more.",
			options,
		);
	}
}

export class Unkeepable extends StorageFault {
	override readonly name = "Unkeepable";
	readonly faults: readonly Fault[];
	constructor(faults: readonly Fault[]) {
		const list = faults.map(({ field, detail }) => `${field} ${detail}`).join("; ");
		super(`This can't be kept as it is: ${list}. Nothing was changed.`);
		this.faults = faults;
	}
}

/** True for the error that browsers raise when their quota or the disk is used up. */
export function isFull(error: unknown): boolean {
	return nameOf(error) === "QuotaExceededError";
}

/**
 * True for errors that a fresh connection heals.
 *
 * Phones drop the connection in the background or under memory pressure
 * (https://bugs.webkit.org/show_bug.cgi?id=197050); remove when that is fixed everywhere.
 */
export function isConnectionLost(error: unknown): boolean {
	const name = nameOf(error);
	return name === "InvalidStateError" || name === "UnknownError" || name === "AbortError";
}

function nameOf(error: unknown): string {
	return typeof error === "object" && error !== null && "name" in error ? String(error.name) : "";
}
