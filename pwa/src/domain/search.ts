/** Finding by words: every word typed must begin a word of what is searched. */
import type { KindForPhone } from "./rules.ts";

export function wordsOf(text: string): string[] {
	return text
		.toLocaleLowerCase("en-GB")
		.normalize("NFD")
		.replace(/\p{M}/gu, "")
		.split(/[^\p{L}\p{N}]+/u)
		.filter((word) => word !== "");
}

/** True when each word of `query` begins some word of `text`. An empty query matches nothing. */
export function matches(query: string, text: string): boolean {
	const asked = wordsOf(query);
	const there = wordsOf(text);
	return asked.length > 0 && asked.every((word) => there.some((other) => other.startsWith(word)));
}

/** Kinds that fit what was typed, those whose own name fits first; at most `most`. */
export function kindsFor(
	kinds: readonly KindForPhone[],
	query: string,
	most: number,
): KindForPhone[] {
	const byName = kinds.filter((kind) => matches(query, kind.name));
	const byWord = kinds.filter(
		(kind) => !byName.includes(kind) && matches(query, [kind.name, ...kind.words].join(" ")),
	);
	return [...byName, ...byWord].slice(0, most);
}
