/** A number as typed on a screen that keeps it at a tap: read at once, so that it never waits for a blur. */

/** What a field holds: the number, or why it can't be read, and the text itself. */
export interface Figure {
	readonly value: number | null;
	readonly why: string | null;
	readonly text: string;
}

/** Read a figure; a comma counts as a point, and nothing typed is no fault. */
export function figureOf(typed: string, low: number, high: number): Figure {
	const text = typed.trim();
	if (text === "") return { value: null, why: null, text };
	const read = Number(text.replace(",", "."));
	if (Number.isFinite(read) && read >= low && read <= high) return { value: read, why: null, text };
	return { value: null, why: `“${text}” can't be read: write a number, ${low} to ${high}.`, text };
}

/** What could not be read, as a note that is kept beside the numbers; null where all could. */
export function unreadNote(figures: readonly Pick<Figure, "why" | "text">[]): string | null {
	const unread = figures.filter(({ why }) => why !== null).map(({ text }) => `“${text}”`);
	return unread.length > 0 ? `Typed, but can't be read: ${unread.join(", ")}` : null;
}
