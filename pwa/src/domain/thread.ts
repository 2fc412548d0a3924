/**
 * Threads as people write them: `G 3/4 A`, `3/4 NPT`, `M20`, `33.2 mm, 11 tpi`.
 *
 * The same answers, to the letter, as the server's `domain/renewals/thread.py`; both run
 * `fixtures/contract/threads.json`.
 */
import type { RenewalRules, Sex, ThreadSizeForPhone } from "./renewalRules.ts";
import { Unreadable } from "./unreadable.ts";

/** `family` is empty where only the series is known, as in `BSP`. */
export interface Thread {
	readonly series: string;
	readonly family: string;
	readonly size: string;
	readonly sex: Sex;
	readonly shown: string;
}

const SEXES: Readonly<Record<string, Sex>> = {
	male: "male",
	outside: "male",
	external: "male",
	ext: "male",
	"m/m": "male",
	"(m)": "male",
	female: "female",
	inside: "female",
	internal: "female",
	int: "female",
	"(f)": "female",
};
const UNKNOWN = ["unknown", "?", "not known", "don't know"];
const HELP =
	"write family and size, like G 3/4, R 3/4, 3/4 NPT, 3/4 NPS or M20; if you don't know it, write what you measure: 33.2 mm, 11 tpi";
const MEASURED_UNDER_MM = 0.7;
const MEASURED_OVER_MM = 0.3;
const METRIC = /^m\s*([0-9]{1,3})(?:\s*x\s*([0-9]+(?:[.,][0-9]+)?))?$/;
const MEASURED = /^([0-9]+(?:[.,][0-9]+)?)\s*mm,?\s*([0-9]+(?:[.,]5)?)\s*(?:tpi|per inch)$/;
const SIZE = "(?:[1-9] ?[- ])?[1-9]/[1-9][0-9]?|[1-9]";
const INCH = "(?:\\s*in)?";

/** The thread that somebody wrote, in any of the usual ways; measures are looked up. Throws Unreadable. */
export function parseThread(text: string, rules: RenewalRules): Thread {
	const [folded, sex] = withoutSex(text.toLowerCase().replaceAll('"', " "));
	if (folded === "" || UNKNOWN.includes(folded))
		throw new Unreadable(`the thread is not known; ${HELP}`);
	const measured = MEASURED.exec(folded);
	if (measured) return byMeasures(numberOf(measured[1]), numberOf(measured[2]), sex, rules);
	const metric = METRIC.exec(folded);
	if (metric) {
		const pitch = metric[2] ? ` x ${metric[2].replace(",", ".")}` : "";
		return made("metric", "metric", `${Number(metric[1])}${pitch}`, sex);
	}
	for (const { word, series, family, classes } of words(rules)) {
		const tail = classes ? `(?:\\s*([${classes}]))?` : "()";
		const found = new RegExp(
			`^(?:${word}\\s*(${SIZE})${INCH}${tail}|(${SIZE})${INCH}\\s*${word})$`,
		).exec(folded);
		if (!found) continue;
		const size = sized(found[1] ?? found[3] ?? "", series, folded, rules);
		return withFamily(series, family, size, ofClass(found[2], sex, text), rules);
	}
	throw new Unreadable(`${text} is no thread that I know; ${HELP}`);
}

/** The pipe threads that an outside thread with these measures may be; the nearest first. */
export function identify(
	outsideMm: number,
	perInch: number,
	rules: RenewalRules,
): ThreadSizeForPhone[] {
	const off = ({ major_mm }: ThreadSizeForPhone): number => outsideMm - major_mm;
	return (rules.thread_sizes ?? [])
		.filter((row) => row.per_inch === perInch)
		.filter((row) => -MEASURED_UNDER_MM <= off(row) && off(row) <= MEASURED_OVER_MM)
		.sort((a, b) => Math.abs(off(a)) - Math.abs(off(b)));
}

function byMeasures(outside: number, perInch: number, sex: Sex, rules: RenewalRules): Thread {
	const rows = identify(outside, perInch, rules);
	const [first] = rows;
	if (!first)
		throw new Unreadable(`no pipe thread has ${outside} mm outside and ${perInch} to the inch`);
	if (new Set(rows.map(({ series }) => series)).size > 1) {
		const names = rows.map(({ series, size }) => `${seriesName(series)} ${size}`).join(" or ");
		throw new Unreadable(
			`${outside} mm and ${perInch} to the inch may be ${names}: hold a gauge of 55 and one of 60 degrees against it, and write which`,
		);
	}
	return made(first.series, "", first.size, sex);
}

function seriesName(series: string): string {
	return series === "NP" ? "American (NPT, NPS)" : series;
}

function made(series: string, family: string, size: string, sex: Sex): Thread {
	return { series, family, size, sex, shown: shownAs(series, family, size) };
}

function shownAs(series: string, family: string, size: string): string {
	if (series === "metric") return `M${size}`;
	if (series === "NP") return `${size} ${family}`;
	return `${family || series} ${size}`;
}

/** A taper BSP thread that is said to be inside is an Rc one, however it was written. */
function withFamily(
	series: string,
	written: string,
	size: string,
	sex: Sex,
	rules: RenewalRules,
): Thread {
	const family = written === "R" && sex === "female" ? "Rc" : written;
	const only = rules.threads.find(({ id }) => id === family)?.sex;
	return made(series, family, size, only || sex);
}

/** Only outside threads have a class. */
function ofClass(tolerance: string | undefined, sex: Sex, text: string): Sex {
	if (tolerance && sex === "female")
		throw new Unreadable(
			`${text} can't be: class ${tolerance.toUpperCase()} is of outside threads; leave it off an inside one`,
		);
	return tolerance ? "male" : sex;
}

function withoutSex(text: string): [string, Sex] {
	const all = text.split(/\s+/).filter(Boolean);
	const sex = all.map((word) => SEXES[word]).find(Boolean) ?? "";
	return [all.filter((word) => !(word in SEXES)).join(" "), sex];
}

/** Each way to write a family, longest first; `bsp` alone names a series only. */
function words({ threads }: RenewalRules) {
	const bare = { word: "bsp", series: "BSP", family: "", classes: "" };
	const all = threads.flatMap(({ id, series, words = [], classes = [] }) =>
		words.map((word) => ({ word, series, family: id, classes: classes.join("") })),
	);
	return [...all, bare].sort((a, b) => b.word.length - a.word.length);
}

function sized(text: string, series: string, folded: string, rules: RenewalRules): string {
	const value = inches(text);
	const row = rules.thread_sizes?.find(
		(one) => one.series === series && Math.abs(inches(one.size) - value) < 1e-9,
	);
	if (row) return row.size;
	throw new Unreadable(`${folded} is no size of pipe thread; they go from 1/8 to 4`);
}

function inches(text: string): number {
	return text
		.replace("-", " ")
		.split(" ")
		.filter(Boolean)
		.map((part) => part.split("/").map(Number))
		.reduce((sum, [upper = 0, lower = 1]) => sum + upper / lower, 0);
}

function numberOf(text: string | undefined): number {
	return Number((text ?? "").replace(",", "."));
}
