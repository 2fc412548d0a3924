/**
 * Tag codes: five base-32 digits and a check character (the number modulo 37).
 *
 * The same answers and the same words as the server's `domain/records/tag.py`; both run
 * `fixtures/contract/tag.json`. Source: Douglas Crockford, "Base 32",
 * https://www.crockford.com/base32.html.
 */

export type CodeProblem = "empty" | "length" | "character" | "check" | "no-tag";

const ALPHABET = "0123456789ABCDEFGHJKMNPQRSTVWXYZ";
const DIGITS = 5;
const LENGTH = DIGITS + 1;
const MODULUS = 37;
const IGNORED = new Set(" \t\r\n\u00a0-\u2010\u2011\u2012\u2013\u2014\u2015\u2212");
const READ = new Map<string, string>([
	...[...ALPHABET].map((sign): [string, string] => [sign, sign]),
	...[...ALPHABET].map((sign): [string, string] => [sign.toLowerCase(), sign]),
	...Object.entries({ O: "0", o: "0", I: "1", i: "1", L: "1", l: "1" }),
]);

// Pairs that dirt, handwriting or a bad light turns into each other; common practice, no source.
const LOOK_ALIKES = "0D 0Q DQ 17 2Z 4A 5S 6G 8B CG HN KX MN MW PR UV VY".split(" ");

/** The text is no tag code: `problem` for programs, the message for the person. */
export class BadCode extends Error {
	override readonly name = "BadCode";
	readonly problem: CodeProblem;
	constructor(problem: CodeProblem, detail: string) {
		super(detail);
		this.problem = problem;
	}
}

/** The number behind a code that `parse` returned. */
export function numberOf(code: string): number {
	let number = 0;
	for (const sign of code.slice(0, DIGITS)) number = number * 32 + ALPHABET.indexOf(sign);
	return number;
}

/** The code in what a person typed; case, hyphens and spaces ignored. Throws BadCode. */
export function parse(text: string): string {
	const signs = [...text].filter((sign) => !IGNORED.has(sign));
	if (signs.length === 0) {
		throw new BadCode("empty", "No code yet. Type the six characters printed on the tag.");
	}
	const strange = signs.find((sign) => !READ.has(sign));
	if (strange !== undefined) throw new BadCode("character", about(strange));
	const code = signs.map((sign) => READ.get(sign)).join("");
	if (code.length !== LENGTH) throw new BadCode("length", aboutLength(code));
	if (!fits(code)) {
		throw new BadCode(
			"check",
			`${shown(code)} is no code that was ever printed: one character is wrong, ` +
				"or two are swapped. Compare it with the tag, character by character.",
		);
	}
	return code;
}

/** The code as it is printed and read aloud, in two groups: `001-6JD`. */
export function shown(code: string): string {
	return `${code.slice(0, 3)}-${code.slice(3)}`;
}

/**
 * The code in what a scanner read: a tag's address on any host, or the bare code.
 *
 * Any host, because printed tags outlive the server's address; the address is never opened.
 * Throws BadCode; its problem is `no-tag` for a QR code of something else.
 */
export function fromScan(text: string): string {
	const path = (text.split(/[?#]/, 1)[0] ?? "").trim();
	const found = /\/t\/([^/]+)\/?$/i.exec(path)?.[1];
	if (found !== undefined) return parse(found);
	if (/[/:]/.test(text) || [...text].length > 4 * LENGTH) {
		throw new BadCode(
			"no-tag",
			"This code is not from a tag of this shed. " +
				"Scan the other symbol on the tag, or type the six characters.",
		);
	}
	return parse(text);
}

/**
 * Codes that the person may have meant by a text that `parse` refused for one sign, in order.
 *
 * One sign is changed for one that looks like it, or two neighbours are swapped back.
 */
export function likely(text: string): string[] {
	const signs = [...text]
		.filter((sign) => !IGNORED.has(sign))
		.map((sign) => READ.get(sign) ?? (sign === "u" ? "U" : sign));
	const code = signs.join("");
	if (signs.length !== LENGTH || fits(code)) return [];
	return [...new Set(neighbours(signs).filter(fits))].sort();
}

function fits(code: string): boolean {
	if ([...code].some((sign) => !ALPHABET.includes(sign))) return false;
	return numberOf(code) % MODULUS === ALPHABET.indexOf(code.charAt(DIGITS));
}

function neighbours(signs: readonly string[]): string[] {
	const found: string[] = [];
	const withSigns = (...changes: (readonly [at: number, sign: string])[]): void => {
		const copy = [...signs];
		for (const [at, sign] of changes) copy[at] = sign;
		found.push(copy.join(""));
	};
	signs.forEach((sign, at) => {
		for (const pair of LOOK_ALIKES) {
			if (pair.includes(sign)) withSigns([at, pair.replace(sign, "")]);
		}
		const next = signs[at + 1];
		if (next !== undefined) withSigns([at, next], [at + 1, sign]);
	});
	return found;
}

function about(sign: string): string {
	if (sign === "U" || sign === "u") {
		return "Codes never hold a U; it is probably a V. Look at the tag again.";
	}
	const name = /^[\p{L}\p{M}\p{N}\p{P}\p{S}]$/u.test(sign) ? sign : "one of the characters";
	return `Codes hold only digits and letters from A to Z, so ${name} can't be part of one.`;
}

function aboutLength(code: string): string {
	const missing = LENGTH - code.length;
	if (missing > 0) {
		const be = missing === 1 ? "is" : "are";
		return `A code has six characters, and ${missing} of them ${be} missing.`;
	}
	return `A code has six characters, and this has ${code.length}: ${-missing} too many.`;
}
