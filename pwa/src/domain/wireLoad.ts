/**
 * What a wire carries, how far and how warm: read from what was written, or asked for.
 *
 * The same answers, to the letter, as the server's `domain/wiring/load.py`; both run
 * `fixtures/contract/wiring.json`.
 */
import type { Item } from "./contract.ts";
import type { WireRules } from "./wireRules.ts";

/** What is written of a run; an item has all of it. */
export type Wired = Pick<
	Item,
	| "load_a"
	| "load_w"
	| "voltage_v"
	| "length_mm"
	| "return_mm"
	| "duty"
	| "critical"
	| "hot_space"
	| "ambient_c"
	| "bundled"
	| "insulation_c"
	| "sheathed"
	| "size"
	| "new_size"
>;

/** What the sizing reckons with. Amperes, volts, metres, °C; shares of 1. */
export interface Load {
	readonly amps: number;
	readonly fuseFromA: number;
	readonly volts: number;
	readonly ac: boolean;
	readonly metres: number;
	readonly allowedShare: number;
	readonly ambientC: number;
	readonly ambientShare: number;
	readonly bundleShare: number;
	readonly insulationAt: number;
	readonly sheathed: boolean;
	readonly assumed: readonly string[];
	readonly notes: readonly string[];
}

/** Something has to be written first. */
export class Asks extends Error {
	readonly asks: readonly string[];
	constructor(asks: readonly string[]) {
		super(asks.join(" "));
		this.asks = asks;
	}
}

/** The method doesn't reach: the reason and the range. */
export class Refused extends Error {}

/** A figure rounded half up, without idle zeros: the same text as on the server. */
export function figure(value: number, places: number): string {
	const times = 10 ** places;
	const text = (Math.floor(value * times + 0.5) / times).toFixed(places);
	return text.includes(".") ? text.replace(/0+$/, "").replace(/\.$/, "") : text;
}

/** What a run carries, with what nobody said counted at its worst. Throws Asks, Refused. */
export function loadOf(run: Wired, ac: boolean, rules: WireRules): Load {
	ask(run);
	const volts = voltsOf(run.voltage_v ?? 0, ac, rules);
	const { amps, notes } = ampsOf(run, volts, rules);
	const metres = metresOf(run, rules);
	const insulation = insulationOf(run.insulation_c, rules);
	const ambientC = ambientOf(run, rules.insulation_c[insulation.at] ?? 0, rules);
	return {
		amps,
		fuseFromA: amps * (rules.duties[run.duty ?? "hours"] ?? 1),
		volts,
		ac,
		metres,
		allowedShare: run.critical === false ? rules.other : rules.critical,
		ambientC,
		ambientShare: ambientShare(ambientC, insulation.at, rules),
		bundleShare: bundleShare(run.bundled ?? 2, rules),
		insulationAt: insulation.at,
		sheathed: run.sheathed === true,
		assumed: assumedOf(run),
		notes: [...notes, ...insulation.notes],
	};
}

function ask(run: Wired): void {
	const asks: string[] = [];
	if (run.load_a === null && run.load_w === null)
		asks.push("Write the load first: amperes or watts, off the plate of what it feeds.");
	if (run.voltage_v === null) asks.push("Write the voltage first: 12 or 24 on most boats.");
	if (run.length_mm === null) asks.push("Write the length first: measured along the run, one way.");
	if (asks.length > 0) throw new Asks(asks);
}

function voltsOf(volts: number, ac: boolean, rules: WireRules): number {
	const [low, high] = ac ? rules.limits.ac_v : rules.limits.dc_v;
	if (low <= volts && volts <= high) return volts;
	const name = ac ? "AC of one phase" : "DC";
	throw new Refused(
		`${figure(volts, 1)} V is outside what this covers: ${figure(low, 0)} to ${figure(high, 0)} V ${name}. Check the voltage, or have an electrician size it.`,
	);
}

function ampsOf(
	run: Wired,
	volts: number,
	rules: WireRules,
): { amps: number; notes: readonly string[] } {
	const { most_a, loads_differ } = rules.limits;
	const byWatts = run.load_w === null ? null : run.load_w / volts;
	const found = [run.load_a, byWatts].filter((value) => value !== null);
	const [amps, least] = [Math.max(...found), Math.min(...found)];
	if (least <= 0)
		throw new Refused(
			"A load of 0 needs no wire: it takes more than 0 A. Write what the plate says, or clear the field.",
		);
	if (amps > most_a)
		throw new Refused(
			`${figure(amps, 0)} A is more than this covers: up to ${figure(most_a, 0)} A. Check amperes against watts, or have an electrician size it.`,
		);
	if (run.load_a === null || byWatts === null || amps - least <= loads_differ * amps)
		return { amps, notes: [] };
	const note = `${figure(run.load_a, 1)} A and ${figure(run.load_w ?? 0, 0)} W at ${figure(volts, 0)} V (${figure(byWatts, 1)} A) don't agree: the larger counts. Clear the wrong one.`;
	return { amps, notes: [note] };
}

function metresOf(run: Wired, rules: WireRules): number {
	const there = run.length_mm ?? 0;
	const metres = (there + (run.return_mm ?? there)) / 1000;
	if (there > 0 && metres <= rules.limits.most_m) return metres;
	throw new Refused(
		`${figure(metres, 2)} m there and back is outside what this covers: more than 0, up to ${figure(rules.limits.most_m, 0)} m. Measure along the run, one way.`,
	);
}

/** Place of the class in the table: the next one down where the table has none such. */
function insulationOf(
	celsius: number | null,
	{ insulation_c: classes }: WireRules,
): { at: number; notes: readonly string[] } {
	const [least = 0, most = 0] = [classes[0], classes.at(-1)];
	const wanted = celsius ?? least;
	if (wanted < least || wanted > most)
		throw new Refused(
			`Insulation for ${wanted} °C is outside the table: ${least} to ${most} °C. Read what is printed on the wire.`,
		);
	const at = classes.findLastIndex((limit) => limit <= wanted);
	if (classes[at] === wanted) return { at, notes: [] };
	return {
		at,
		notes: [`Insulation for ${wanted} °C counts as ${classes[at]} °C, the class below it.`],
	};
}

function ambientOf(run: Wired, insulationC: number, rules: WireRules): number {
	const celsius = run.ambient_c ?? (run.hot_space === false ? rules.at_c : rules.hot_c);
	const most = Math.min(rules.most_c, insulationC - rules.below_insulation_k);
	if (celsius >= -20 && celsius <= most) return celsius;
	throw new Refused(
		`Air of ${figure(celsius, 0)} °C is outside what this covers: -20 to ${figure(most, 0)} °C with insulation for ${insulationC} °C. Lead it elsewhere, or take better insulation.`,
	);
}

/** What is left of the amperes in warmer air, 1 up to the table's own 30 °C. */
function ambientShare(ambientC: number, insulationAt: number, rules: WireRules): number {
	if (ambientC <= rules.at_c) return 1;
	const limit = rules.insulation_c[insulationAt] ?? 0;
	const root = Math.sqrt((limit - ambientC) / (limit - rules.at_c));
	return ambientC >= rules.hot_c ? Math.min(root, rules.at_hot[insulationAt] ?? 1) : root;
}

function bundleShare(together: number, rules: WireRules): number {
	if (together > rules.limits.most_bundled)
		throw new Refused(
			`${together} conductors together are more than this covers: 1 to ${rules.limits.most_bundled}. Divide the bundle.`,
		);
	return rules.bundles.findLast((row) => row.from_n <= together)?.share ?? 1;
}

function assumedOf(run: Wired): string[] {
	const found: string[] = [];
	if (run.critical === null) found.push("3 % of drop, as for what must not sag");
	if (run.duty === null) found.push("runs for hours");
	if (run.hot_space === null && run.ambient_c === null)
		found.push("passes the engine space, 50 °C");
	if (run.insulation_c === null) found.push("insulation for 60 °C, the lowest");
	if (run.bundled === null) found.push("lies alone with its return");
	if (run.sheathed === null) found.push("single conductors, no sheath");
	if (run.return_mm === null) found.push("as long back as there");
	return found;
}
