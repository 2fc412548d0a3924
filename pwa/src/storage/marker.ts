/**
 * A note outside the database of what was in it, by which its loss is noticed.
 *
 * Browsers clear the database as a whole, and seldom both of the places where the note stands.
 */

export interface Marker {
	readonly unsentChanges: number;
	readonly unsentPhotos: number;
	/** Milliseconds since 1970 at which this was last noted. */
	readonly notedAt: number;
}

const NAME = "shedtally.kept";
const LASTS_S = 400 * 86_400;

let lastText = "";

/** Note what is in the database now. Never throws: where it can't be noted, it is not. */
export function noteKept(unsentChanges: number, unsentPhotos: number, now: number): void {
	const counts = `${unsentChanges}.${unsentPhotos}`;
	if (counts === lastText) return;
	lastText = counts;
	const text = `${counts}.${now}`;
	try {
		globalThis.localStorage?.setItem(NAME, text);
	} catch {
		// Refused in some private windows.
	}
	if (typeof document !== "undefined") {
		// biome-ignore lint/suspicious/noDocumentCookie: the other interface is missing in Firefox and Safari
		document.cookie = `${NAME}=${text}; Max-Age=${LASTS_S}; Path=/; SameSite=Strict`;
	}
}

/** What was noted last; null if nothing was, or all of it is gone. */
export function readMarker(): Marker | null {
	return parsed(fromLocalStorage()) ?? parsed(fromCookie());
}

function fromLocalStorage(): string | null {
	try {
		return globalThis.localStorage?.getItem(NAME) ?? null;
	} catch {
		return null;
	}
}

function fromCookie(): string | null {
	if (typeof document === "undefined") return null;
	const found = document.cookie.split("; ").find((part) => part.startsWith(`${NAME}=`));
	return found?.slice(NAME.length + 1) ?? null;
}

function parsed(text: string | null): Marker | null {
	const parts = /^(\d+)\.(\d+)\.(\d+)$/.exec(text ?? "");
	if (!parts) return null;
	const [, changes, photos, at] = parts;
	return { unsentChanges: Number(changes), unsentPhotos: Number(photos), notedAt: Number(at) };
}
