/** Wire gauge: the number on the reel and the copper it stands for. */
import { Unreadable } from "./unreadable.ts";

const THINNEST = 40;

/** The gauge as a number (4/0 is -3, 1/0 is 0) and as it is shown. Throws Unreadable. */
export function gaugeFromText(text: string): [gauge: number, shown: string] {
	const noughts = /^([1-4])\/0$/.exec(text)?.[1];
	if (noughts !== undefined) return [1 - Number(noughts), text];
	if (/^0{1,4}$/.test(text)) return [1 - text.length, `${text.length}/0`];
	if (/^[1-9][0-9]?$/.test(text) && Number(text) <= THINNEST) return [Number(text), text];
	throw new Unreadable(`${text} is no wire gauge; AWG runs from 4/0 to 40, like AWG 12 or 2/0 AWG`);
}

/**
 * Diameter of the solid wire of a gauge from -3 (4/0) to 40, in mm.
 *
 * Source: ASTM B258, d = 0.005 in * 92 ** ((36 - n) / 39).
 */
export function gaugeDiameterMm(gauge: number): number {
	return 0.127 * 92 ** ((36 - gauge) / 39);
}

/** Area of a circle, in mm2. */
export function roundAreaMm2(diameterMm: number): number {
	return (Math.PI / 4) * diameterMm ** 2;
}
