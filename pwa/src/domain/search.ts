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
	return matcherOf(query)(searchable(text));
}

/** A text made ready for many questions: its words, each after a space. */
export function searchable(text: string): string {
	return ` ${wordsOf(text).join(" ")}`;
}

/** The same question as `matches` for many texts that are `searchable`. */
export function matcherOf(query: string): (ready: string) => boolean {
	const asked = wordsOf(query).map((word) => ` ${word}`);
	return (ready) => asked.length > 0 && asked.every((word) => ready.includes(word));
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
