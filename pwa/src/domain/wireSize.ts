/**
 * The thinnest wire that bears a load and drops no more than it may, by gauge and in mm2.
 *
 * It supports a qualified electrician and the local code, and replaces neither. The same answers
 * as the server's `domain/wiring/size.py`; both run `fixtures/contract/wiring.json`.
 */
import type { WireFit, WireSizing } from "./contract.ts";
import { parseSize, type Size } from "./measure.ts";
import { Unreadable } from "./unreadable.ts";
import { Asks, figure, type Load, loadOf, Refused, type Wired } from "./wireLoad.ts";
import type { WireRules } from "./wireRules.ts";

// What lies within a rounding of the limit passes; areas of gauges are rounded in the table.
const CLOSE = 1e-9;
const SAME_MM2 = 1e-5;

type Conductor = Pick<Size, "kind" | "shown" | "cores"> & { readonly mm2: number };

/** The thinnest conductors for a run, and the old and the taken one judged by the same load. */
export function sizeWire(run: Wired, ac: boolean, rules: WireRules): WireSizing {
	let load: Load;
	try {
		load = loadOf(run, ac, rules);
	} catch (error) {
		if (error instanceof Asks) return { ...NOTHING, asks: error.asks };
		if (error instanceof Refused) return { ...NOTHING, refused: error.message };
		throw error;
	}
	const gauge = least(gauges(load, rules), load, rules);
	const metric = least(metricSizes(load, rules), load, rules);
	const [old, old_words] = oldWire(run.size, load, gauge, metric, rules);
	const [taken, taken_words] = takenWire(run.new_size, load, rules);
	return {
		refused: gauge || metric ? "" : tooMuch(load, rules),
		asks: [],
		assumed: load.assumed,
		notes: load.notes,
		amps: load.amps,
		fuse_from_a: load.fuseFromA,
		there_and_back_m: load.metres,
		allowed_share: load.allowedShare,
		allowed_v: load.allowedShare * load.volts,
		ambient_c: load.ambientC,
		ambient_share: load.ambientShare,
		bundle_share: load.bundleShare,
		insulation_c: rules.insulation_c[load.insulationAt] ?? 0,
		gauge,
		metric,
		old,
		old_words,
		taken,
		taken_words,
	};
}

/** A conductor as it was written, or why it is none. */
export function conductor(text: string): Conductor | string {
	try {
		const { kind, mm2, shown, cores } = parseSize(text);
		if (mm2 === null) return `${text} is no conductor: write mm2 or AWG`;
		return { kind, mm2, cores, shown: shown.split(" x ").at(-1) ?? shown };
	} catch (error) {
		if (error instanceof Unreadable) return error.message;
		throw error;
	}
}

function gauges(load: Load, rules: WireRules): Conductor[] {
	const most = load.ac ? rules.limits.ac_gauge_mm2 : Number.POSITIVE_INFINITY;
	return rules.gauges
		.filter(({ mm2 }) => mm2 <= most)
		.map(({ mm2, name }) => ({ kind: "awg", mm2, cores: 1, shown: `AWG ${name}` }));
}

function metricSizes(load: Load, rules: WireRules): Conductor[] {
	const most = load.ac ? rules.limits.ac_mm2 : Number.POSITIVE_INFINITY;
	return rules.metric
		.filter(({ mm2 }) => mm2 <= most)
		.map(({ mm2 }) => ({ kind: "area", mm2, cores: 1, shown: `${mm2} mm2` }));
}

/** One conductor against the load, with every reason why it won't do. */
export function fitOf(size: Conductor, load: Load, rules: WireRules): WireFit {
	const { mm2 } = size;
	const bears = bearsA(mm2, load, rules);
	const drop = load.amps * load.metres * ohmPerM(size, load.ambientC, rules);
	const share = drop / load.volts;
	const fuses = rules.fuses.filter(
		(rating) => load.fuseFromA - CLOSE <= rating && rating <= bears + CLOSE,
	);
	const fails: string[] = [];
	if (mm2 < leastMm2(size, load, rules) - SAME_MM2) fails.push("thinner than may be fitted");
	if (bears < load.fuseFromA - CLOSE)
		fails.push(`bears ${figure(bears, 1)} A of ${figure(load.fuseFromA, 1)} A`);
	else if (fuses.length === 0)
		fails.push(`no fuse is sold between ${figure(load.fuseFromA, 1)} and ${figure(bears, 1)} A`);
	if (share > load.allowedShare + CLOSE)
		fails.push(
			`drops ${figure(100 * share, 1)} % where ${figure(100 * load.allowedShare, 0)} % is allowed`,
		);
	return { name: size.shown, mm2, bears_a: bears, drop_v: drop, drop_share: share, fuses, fails };
}

/** Amperes that a section bears: those of the gauge that is not thicker, after the shares. */
function bearsA(mm2: number, load: Load, rules: WireRules): number {
	const row = rules.gauges.findLast((gauge) => gauge.mm2 <= mm2 + SAME_MM2);
	return (row?.amperes[load.insulationAt] ?? 0) * load.ambientShare * load.bundleShare;
}

/** Resistance in ohm/m at the temperature of the air, at least the table's 30 °C. */
function ohmPerM({ kind, mm2 }: Conductor, ambientC: number, rules: WireRules): number {
	const warm = 1 + rules.per_k * (Math.max(ambientC, rules.at_c) - 20);
	if (kind === "awg")
		return ((rules.ohm_mm2_per_m / mm2) * warm) / (1 + rules.per_k * (rules.at_c - 20));
	const row = rules.metric.find((metric) => metric.mm2 === mm2);
	return ((row?.ohm_per_km ?? rules.unnamed_ohm_mm2_per_km / mm2) / 1000) * warm;
}

function leastMm2({ kind }: Conductor, { sheathed }: Load, rules: WireRules): number {
	if (kind === "awg") return sheathed ? rules.sheathed_gauge_mm2 : rules.alone_gauge_mm2;
	return sheathed ? rules.sheathed_mm2 : rules.alone_mm2;
}

function least(sizes: readonly Conductor[], load: Load, rules: WireRules): WireFit | null {
	return (
		sizes.map((size) => fitOf(size, load, rules)).find(({ fails }) => fails.length === 0) ?? null
	);
}

function tooMuch(load: Load, rules: WireRules): string {
	const size = gauges(load, rules).at(-1);
	const thickest = size && fitOf(size, load, rules);
	const fails = thickest?.fails.join(", ");
	return load.ac
		? `With AC this reaches to ${thickest?.name}, which ${fails}: beyond it more than resistance counts. Have an electrician size it.`
		: `No wire of the table will do: ${thickest?.name}, the thickest, ${fails}. Shorten the run, raise the voltage, or ask an electrician for two side by side.`;
}

function oldWire(
	text: string | null,
	load: Load,
	gauge: WireFit | null,
	metric: WireFit | null,
	rules: WireRules,
): [WireFit | null, string] {
	if (!text) return [null, "What was there is not written, so there is nothing to compare with."];
	const size = conductor(text);
	if (typeof size === "string") return [null, `What was there can't be compared: ${size}.`];
	const old = fitOf(size, load, rules);
	return [old, compared(old, size.kind === "awg" ? gauge : metric)];
}

function compared(old: WireFit, wanted: WireFit | null): string {
	const fails = old.fails.join(", ");
	if (!wanted) return fails ? `The old ${old.name} won't do: ${fails}.` : "";
	if (fails) {
		const word = old.mm2 < wanted.mm2 - SAME_MM2 ? "thinner than" : "not";
		return `The old ${old.name} is ${word} the ${wanted.name} that it takes, and fails: ${fails}.`;
	}
	const drops = `drops ${figure(old.drop_v, 2)} V, ${figure(100 * old.drop_share, 1)} %`;
	const bears = `bears ${figure(old.bears_a, 1)} A`;
	const word = old.mm2 > wanted.mm2 + SAME_MM2 ? "thicker than it needs" : "what it takes";
	return `The old ${old.name} is ${word}: it ${drops}, ${bears}, and passes.`;
}

function takenWire(text: string | null, load: Load, rules: WireRules): [WireFit | null, string] {
	if (!text) return [null, ""];
	const size = conductor(text);
	if (typeof size === "string") return [null, `The size that was taken can't be read: ${size}.`];
	const taken = fitOf(size, load, rules);
	const judged = taken.fails.length > 0 ? `It fails: ${taken.fails.join(", ")}.` : "It passes.";
	return [taken, `Taken: ${taken.name}. ${judged}`];
}

const NOTHING: WireSizing = {
	refused: "",
	asks: [],
	assumed: [],
	notes: [],
	amps: 0,
	fuse_from_a: 0,
	there_and_back_m: 0,
	allowed_share: 0,
	allowed_v: 0,
	ambient_c: 0,
	ambient_share: 0,
	bundle_share: 0,
	insulation_c: 0,
	gauge: null,
	metric: null,
	old: null,
	old_words: "",
	taken: null,
	taken_words: "",
};
