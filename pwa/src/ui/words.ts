/** Numbers and times in the words of the screens. */

/** `1 photo`, `12 photos`; give the plural where it is not the singular with an s. */
export function count(n: number, one: string, many = `${one}s`): string {
	return `${n} ${n === 1 ? one : many}`;
}

/** Kilograms with no more digits than the figure can bear: `0.35`, `4.2`, `118`. */
export function kilograms(kg: number): string {
	if (kg === 0) return "0 kg";
	const digits = kg < 1 ? 2 : kg < 10 ? 1 : 0;
	return `${kg.toFixed(digits)} kg`;
}

/** `3.4 m` from a metre up, `640 mm` below. */
export function length(mm: number): string {
	return mm >= 1000 ? `${Number((mm / 1000).toFixed(2))} m` : `${Math.round(mm)} mm`;
}

/** `14:32` in the phone's own time. */
export function clock(at: Date): string {
	return at.toLocaleTimeString("en-GB", { hour: "2-digit", minute: "2-digit" });
}

/** `4 May 2026`. */
export function day(at: Date): string {
	return at.toLocaleDateString("en-GB", { day: "numeric", month: "long", year: "numeric" });
}

/** A text of the server with its days in words: `2026-11-18` may be read the wrong way round. */
export function daysInWords(text: string): string {
	return text.replace(/\b\d{4}-\d\d-\d\d\b/g, (on) => day(new Date(`${on}T12:00:00`)));
}

/** How long ago, in the largest unit that fits: `just now`, `6 min ago`, `3 h ago`, `5 days ago`. */
export function ago(then: number, now: number): string {
	const minutes = Math.floor(Math.max(0, now - then) / 60_000);
	if (minutes < 1) return "just now";
	if (minutes < 60) return `${minutes} min ago`;
	const hours = Math.floor(minutes / 60);
	if (hours < 48) return `${hours} h ago`;
	return `${Math.floor(hours / 24)} days ago`;
}

/** First letter large, for a sentence made from data. */
export function sentence(text: string): string {
	return text.charAt(0).toUpperCase() + text.slice(1);
}

/** A sentence that ends with one stop, also where a person wrote theirs. */
export function stopped(text: string): string {
	return /[.!?…]$/.test(text.trim()) ? text.trim() : `${text.trim()}.`;
}

/** `7 119.83`: an amount in groups of three. */
export function amount(value: number): string {
	return value.toFixed(2).replace(/\B(?=(\d{3})+\.)/g, "\u202f");
}

/** Bytes as a person reads them: `0.4 MB`, `12 MB`, `3.2 GB`. */
export function size(bytes: number): string {
	const mb = bytes / 1_000_000;
	if (mb >= 1_000) return `${(mb / 1_000).toFixed(1)} GB`;
	if (mb >= 10) return `${Math.round(mb)} MB`;
	return mb >= 0.1 || bytes === 0
		? `${Number(mb.toFixed(1))} MB`
		: `${Math.max(1, Math.round(bytes / 1_000))} kB`;
}
