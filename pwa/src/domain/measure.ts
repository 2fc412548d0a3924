/**
 * Reading of lengths, masses and sizes as people write them: `3/4 in`, `1,2 m`, `AWG 12`.
 *
 * The same answers, to the letter, as the server's `domain/measures/reading.py`; both run
 * `fixtures/contract/measure.json`. Inch, foot, pound and ounce are the exact international ones.
 */

import { Unreadable } from "./unreadable.ts";
import { gaugeDiameterMm, gaugeFromText, roundAreaMm2 } from "./wire.ts";

export { Unreadable } from "./unreadable.ts";

const LONGEST_TEXT = 40;
const MOST_MM = 50_000;
const MOST_KG = 100_000;
const MOST_MM2 = 1_000;

const MM: Units = { mm: 1, cm: 10, m: 1_000, in: 25.4, ft: 304.8 };
const KG: Units = { t: 1_000, kg: 1, lb: 0.45359237, oz: 0.028349523125, g: 0.001 };
const SPELLINGS: Readonly<Record<string, string>> = {
	'"': "in",
	"''": "in",
	inch: "in",
	inches: "in",
	"'": "ft",
	foot: "ft",
	feet: "ft",
	metre: "m",
	metres: "m",
	meter: "m",
	meters: "m",
	kilo: "kg",
	kilos: "kg",
	kilogram: "kg",
	kilograms: "kg",
	kgs: "kg",
	gram: "g",
	grams: "g",
	lbs: "lb",
	pound: "lb",
	pounds: "lb",
	ounce: "oz",
	ounces: "oz",
	tonne: "t",
	tonnes: "t",
};
const LENGTH_HELP = "write mm, cm, m, in or ft";
const MASS_HELP = "write kg, g, t, lb or oz";
const MOST = "the most that can be kept; check the number and the unit";

const NUMBER = "(?:[0-9]+[ -])?[0-9]+/[0-9]+|[0-9]*[.,][0-9]+|[0-9]+";
const QUANTITY = new RegExp(`(-?)\\s*(${NUMBER})\\s*([^0-9\\s.,-]*)\\s*`, "y");
const AREA = new RegExp(
	`^(?:([1-9][0-9]?)\\s*x\\s*)?(-?)\\s*(${NUMBER})\\s*(?:mm2|mm\\^2|sq ?mm|sq\\. ?mm|qmm)$`,
);
const AWG = /^(?:([1-9][0-9]?)\s*x\s*)?(?:awg\s*([0-9/]+)|([0-9/]+)\s*awg)$/;
const NOMINAL = /^dn\s*([0-9]{1,4})$/;
const METRIC_THREAD = /^m\s*([0-9]{1,2})$/;
const FAMILY = "bspt|bspp|bspf|bsp|mnpt|fnpt|npt|npsm|nps";
// ISO 228-1 and ISO 7-1 write the family first, ASME B1.20.1 the size; people do either.
const PIPE_THREAD = new RegExp(
	`^(?:(${NUMBER})\\s*(?:in|")?\\s*(${FAMILY})|(g|rp|rc|r|${FAMILY})\\s*(${NUMBER})\\s*(?:in|")?)$`,
);
// Only an outside G thread has a class, A or B.
const CLASSED = new RegExp(`^(g\\s*(?:${NUMBER})\\s*(?:in|")?)\\s*[ab]$`);
const FAMILY_FIRST: Readonly<Record<string, string>> = { g: "G", r: "R", rp: "Rp", rc: "Rc" };

/** Signs that phones type for plain ones, and fractions that they put in one character. */
const FOLD: Readonly<Record<string, string>> = {
	"\u00d7": "x",
	"\u2032": "'",
	"\u2033": '"',
	"\u2018": "'",
	"\u2019": "'",
	"\u201c": '"',
	"\u201d": '"',
	"\u2212": "-",
	"\u00b2": "2",
	"\u2044": "/",
	"\u00bd": " 1/2",
	"\u00bc": " 1/4",
	"\u00be": " 3/4",
	"\u2153": " 1/3",
	"\u2154": " 2/3",
	"\u215b": " 1/8",
	"\u215c": " 3/8",
	"\u215d": " 5/8",
	"\u215e": " 7/8",
};

type Units = Readonly<Record<string, number>>;

/** A size that was read. Threads of two families never count as the same size. */
export interface Size {
	readonly kind: "length" | "area" | "awg";
	/** Bore, diameter or width; of an `awg` the diameter of the solid wire. */
	readonly mm: number | null;
	/** Copper section of one core. */
	readonly mm2: number | null;
	readonly shown: string;
	readonly cores: number;
	/** The family, where one was written: `M`, `BSP`, `NPT` ... */
	readonly thread: string;
}

/**
 * The length in millimetres, above 0 up to 50,000, unrounded; a reel may be longer. Throws
 * Unreadable.
 */
export function parseLengthMm(text: string, mostMm = MOST_MM, example = "19 mm or 3/4 in"): number {
	const folded = fold(text, example);
	if (pipeThread(folded))
		throw new Unreadable(`${folded} is a thread, and no length; ${LENGTH_HELP}`);
	const millimetres = sum(folded, MM, LENGTH_HELP);
	if (millimetres === 0) throw new Unreadable(`${folded} can't be; write what you measured`);
	if (millimetres > mostMm)
		throw new Unreadable(`${folded} is more than ${mostMm / 1_000} m, ${MOST}`);
	return millimetres;
}

/** The mass in kilograms, 0 to 100,000, unrounded. Throws Unreadable. */
export function parseMassKg(text: string): number {
	const folded = fold(text, "2.5 kg or 12 lb");
	const kilograms = sum(folded, KG, MASS_HELP);
	if (kilograms > MOST_KG) throw new Unreadable(`${folded} is more than 100 t, ${MOST}`);
	return kilograms;
}

/** The size of a hose, cable, thread or fitting. Throws Unreadable. */
export function parseSize(text: string): Size {
	const folded = fold(text, "19 mm, 3/4 in, AWG 12 or 2.5 mm2");
	const section = AREA.exec(folded);
	if (section) return area(folded, section);
	const wire = AWG.exec(folded);
	if (wire) return gauge(wire);
	const pipe = pipeThread(folded);
	if (pipe) return threaded(pipe);
	const metric = METRIC_THREAD.exec(folded)?.[1];
	if (metric !== undefined) return length(Number(metric), `M${Number(metric)}`, "M");
	const nominal = NOMINAL.exec(folded)?.[1];
	if (nominal !== undefined) return length(Number(nominal), `DN ${Number(nominal)}`);
	const millimetres = parseLengthMm(text);
	return length(millimetres, `${short(Number(millimetres.toFixed(2)))} mm`);
}

function pipeThread(folded: string): RegExpExecArray | null {
	return PIPE_THREAD.exec(CLASSED.exec(folded)?.[1]?.trim() ?? folded);
}

/** A pipe thread by family and size, named as its standard names it. */
function threaded([, before, after = "", family = "", last = ""]: RegExpExecArray): Size {
	const text = before ?? last;
	const inches = text.replace("-", " ");
	const first = FAMILY_FIRST[family];
	const name = first ?? (after || family).toUpperCase();
	return length(number(text) * 25.4, first ? `${first} ${inches}` : `${inches} ${name}`, name);
}

function length(mm: number, shown: string, thread = ""): Size {
	return { kind: "length", mm, mm2: null, shown, cores: 1, thread };
}

/** One spelling of what may be typed many ways: lower case, plain quotes, single spaces. */
function fold(text: string, example: string): string {
	const plain = [...text].map((sign) => FOLD[sign] ?? sign).join("");
	const folded = plain.toLowerCase().trim().replace(/\s+/g, " ");
	if (folded === "") {
		throw new Unreadable(`nothing is written; write a number and a unit, like ${example}`);
	}
	if ([...folded].length > LONGEST_TEXT) {
		throw new Unreadable(`that is too long to be a measure; write it like ${example}`);
	}
	if (!/[0-9]/.test(folded)) {
		throw new Unreadable(`no number in ${folded}; write a number and a unit, like ${example}`);
	}
	return folded;
}

/** Add up quantities of falling units, as in `5 ft 6 in`. */
function sum(folded: string, units: Units, help: string): number {
	let [total, last] = [0, Number.POSITIVE_INFINITY];
	QUANTITY.lastIndex = 0;
	while (QUANTITY.lastIndex < folded.length) {
		const at = QUANTITY.lastIndex;
		const found = QUANTITY.exec(folded);
		if (!found) throw notOneMeasure(folded);
		const next = at + found[0].length;
		const { value, unit } = quantity(folded, found, units, help);
		if (unit >= last) throw notOneMeasure(folded);
		total += value * unit;
		last = unit;
		QUANTITY.lastIndex = next;
	}
	return total;
}

function quantity(
	folded: string,
	[, sign = "", text = "", spelling = ""]: RegExpExecArray,
	units: Units,
	help: string,
): { value: number; unit: number } {
	const value = number(text);
	const name = Object.hasOwn(SPELLINGS, spelling) ? (SPELLINGS[spelling] ?? "") : spelling;
	if (name === "") throw new Unreadable(`${text} has no unit; ${help}`);
	const unit = Object.hasOwn(units, name) ? units[name] : undefined;
	if (unit === undefined) throw new Unreadable(`${spelling} is no unit I know; ${help}`);
	if (sign) throw new Unreadable(`${folded} is below zero; write it without the minus`);
	return { value, unit };
}

function notOneMeasure(folded: string): Unreadable {
	return new Unreadable(`${folded} is not one measure; write one number and one unit`);
}

/** The value of a decimal, a fraction or a whole number with a fraction. */
function number(text: string): number {
	if (/^[0-9]{1,3},[0-9]{3}$/.test(text)) {
		const [decimal, plain] = [text.replace(",", "."), text.replace(",", "")];
		throw new Unreadable(`${text} can mean ${decimal} or ${plain}; write the one you mean`);
	}
	const [fraction = "", whole = "0"] = text.replace("-", " ").split(" ").reverse();
	if (!fraction.includes("/")) return Number(fraction.replace(",", "."));
	const [upper = 0, lower = 0] = fraction.split("/").map(Number);
	if (lower === 0) {
		throw new Unreadable(`${fraction} is no fraction; the lower number can't be 0`);
	}
	return (Number(whole) * lower + upper) / lower;
}

function area(folded: string, found: RegExpExecArray): Size {
	const [, cores, sign, text = ""] = found;
	const mm2 = number(text);
	if (sign) throw new Unreadable(`${folded} is below zero; write it without the minus`);
	if (mm2 === 0) throw new Unreadable(`${folded} can't be; write what you measured`);
	if (mm2 > MOST_MM2) throw new Unreadable(`${folded} is more than 1000 mm2, ${MOST}`);
	const shown = `${times(cores)}${short(mm2)} mm2`;
	return { kind: "area", mm: null, mm2, shown, cores: Number(cores ?? 1), thread: "" };
}

function gauge([, cores, before, after]: RegExpExecArray): Size {
	const [which, text] = gaugeFromText(before ?? after ?? "");
	const mm = gaugeDiameterMm(which);
	const shown = `${times(cores)}AWG ${text}`;
	return { kind: "awg", mm, mm2: roundAreaMm2(mm), shown, cores: Number(cores ?? 1), thread: "" };
}

function times(cores: string | undefined): string {
	return cores ? `${cores} x ` : "";
}

/** At most six significant digits, without noughts at the end. */
function short(value: number): string {
	return String(Number(value.toPrecision(6)));
}
