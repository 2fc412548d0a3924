/** A lift seen from the side and from aft: where hook, eyes and middle of mass come to lie. */
import type { LiftLeg, LiftLine } from "../../domain/contract.ts";

export interface Spot {
	readonly x: number;
	readonly y: number;
}

export interface Strand {
	readonly number: number;
	readonly leg: LiftLeg;
	readonly eye: Spot;
	/** Where angle and pull are written, at the side on which the leg goes; null: in the other view. */
	readonly label: (Spot & { readonly left: boolean }) | null;
	readonly over: boolean;
}

export interface View {
	readonly hook: Spot;
	readonly strands: readonly Strand[];
	readonly centre: Spot & { readonly from: number; readonly to: number };
	/** The load as a box that stands for it: its shape is not known. */
	readonly load: {
		readonly left: number;
		readonly right: number;
		readonly top: number;
		readonly foot: number;
	};
}

/** Each view is drawn into this square, in units of the drawing. */
export const SIDE = 132;
const LABEL_HEIGHT = 30;
const OUTSIDE_M = 0.12;

/** Side (bow to the left) and from aft (starboard to the right), at one scale; null: not reckoned. */
export function viewsOf(line: LiftLine): { side: View; aft: View } | null {
	const [aft, off, up] = line.centre;
	const [hookAft, hookOff, hookUp] = line.hook;
	if (line.legs.length === 0 || !aft || !off || !up) return null;
	if (hookAft === undefined || hookOff === undefined || hookUp === undefined) return null;
	const foot = footOf(line, up.likely);
	const tall = hookUp - foot;
	const lying = [
		{ hook: hookAft, middle: aft, eyes: line.legs.map((leg) => leg.aft_m) },
		{ hook: hookOff, middle: off, eyes: line.legs.map((leg) => leg.off_m) },
	] as const;
	const spans = lying.map(({ hook, middle, eyes }) => {
		const all = [hook, middle.low, middle.high, ...eyes];
		return { from: Math.min(...all) - OUTSIDE_M, to: Math.max(...all) + OUTSIDE_M };
	});
	const wide = Math.max(...spans.map(({ from, to }) => to - from));
	const scale = SIDE / Math.max(tall, wide, 0.1);
	const made = lying.map(({ hook, middle, eyes }, at): View => {
		const { from, to } = spans[at] ?? { from: 0, to: 1 };
		const x = (metres: number): number => SIDE / 2 + (metres - (from + to) / 2) * scale;
		const y = (metres: number): number => (hookUp - metres) * scale;
		const wider = (leg: LiftLeg): boolean =>
			Math.abs(leg.aft_m - hookAft) >= Math.abs(leg.off_m - hookOff) === (at === 0);
		return {
			hook: { x: x(hook), y: y(hookUp) },
			strands: withLabels(
				line.legs.map((leg, n) => ({
					number: n + 1,
					leg,
					eye: { x: x(eyes[n] ?? 0), y: y(leg.up_m) },
					shown: wider(leg),
				})),
				{ x: x(hook), y: y(hookUp) },
			),
			centre: {
				x: x(middle.likely),
				y: y(up.likely),
				from: x(middle.low),
				to: x(middle.high),
			},
			load: {
				left: x(Math.min(...eyes, middle.low) - OUTSIDE_M),
				right: x(Math.max(...eyes, middle.high) + OUTSIDE_M),
				top: y(Math.max(...line.legs.map((leg) => leg.up_m))),
				foot: y(foot),
			},
		};
	});
	const [side, fromAft] = made;
	return side && fromAft ? { side, aft: fromAft } : null;
}

/** As far under the middle of mass as the highest eye is over it, and never nothing. */
function footOf({ legs }: LiftLine, middle: number): number {
	const highest = Math.max(...legs.map((leg) => leg.up_m));
	return Math.min(middle, ...legs.map((leg) => leg.up_m)) - Math.max(0.15, highest - middle) / 2;
}

interface Bare {
	readonly number: number;
	readonly leg: LiftLeg;
	readonly eye: Spot;
	readonly shown: boolean;
}

/** Labels half-way along their legs, moved down where two on one side would meet. */
function withLabels(strands: readonly Bare[], hook: Spot): Strand[] {
	const last = { left: -Infinity, right: -Infinity };
	return strands.map(({ number, leg, eye, shown }) => {
		const over = leg.rated_kg !== null && leg.most_kg > leg.rated_kg;
		if (!shown) return { number, leg, eye, over, label: null };
		const left = eye.x < hook.x;
		const side = left ? "left" : "right";
		const y = Math.max((hook.y + eye.y) / 2, last[side] + LABEL_HEIGHT);
		last[side] = y;
		const x = (hook.x + eye.x) / 2 + (left ? -16 : 16);
		return { number, leg, eye, over, label: { x, y, left } };
	});
}
