/**
 * What speaks against a lift as it is written, offline: the hook's height, eyes at one place, the
 * angle of the legs; as the server's sling.py has them (fixtures/contract/rigs.json). What a leg
 * pulls is the server's.
 */
import type { Eye, Item, Lift } from "./contract.ts";

type Point = readonly [aft: number, off: number, up: number];

export interface RigLimits {
	/** The widest angle from the vertical that a leg may have, in degrees. */
	readonly most_angle_deg: number;
}

const TOO_NEAR_M = 0.02;

/** The reason and the range in words; null where nothing written speaks against it, or it isn't all there. */
export function refusedRig(
	lift: Lift,
	eyes: readonly Eye[],
	item: Item | undefined,
	limits: RigLimits | undefined,
): string | null {
	if (item?.mass_kg === 0) return "It weighs 0 kg as written; a lift takes more than 0 kg.";
	const points = eyes.map(({ aft_m, off_m, up_m }) => pointOf(aft_m, off_m, up_m));
	const known = points.filter((point) => point !== null);
	const up = lift.hook_up_m;
	if (known.some((eye, at) => known.slice(0, at).some((other) => far(eye, other) < TOO_NEAR_M)))
		return "Two eyes are at the same place: they must be at least 2 cm apart.";
	if (up === null) return null;
	const high = Math.max(...known.map((eye) => eye[2]));
	if (up - high < TOO_NEAR_M)
		return `The hook, ${up} m up, is not above an eye, ${high} m up: it must be more than ${high} m.`;
	const middle = middleOf(lift, item);
	if (!limits || !middle || known.length < 2 || known.length < points.length) return null;
	const widest = Math.max(...anglesOf(hookOf(lift, up, middle, known), middle, known));
	return widest > limits.most_angle_deg + 1e-6
		? `A leg stands ${Math.round(widest)}° from the vertical: 0 to ${limits.most_angle_deg}° is allowed. Take longer slings, so that the hook is higher, or a spreader.`
		: null;
}

function pointOf(aft: number | null, off: number | null, up: number | null): Point | null {
	return aft === null || off === null || up === null ? null : [aft, off, up];
}

function middleOf(lift: Lift, item: Item | undefined): Point | null {
	const measured = pointOf(lift.centre_aft_m, lift.centre_off_m, lift.centre_up_m);
	if (measured || lift.measured_from || !item) return measured;
	return pointOf(item.aft_m, item.off_m, item.up_m);
}

/** Plumb over the middle of mass where nobody said; with two eyes over the line between them. */
function hookOf(lift: Lift, up: number, middle: Point, eyes: readonly Point[]): Point {
	let over: Point = middle;
	const [first, second] = eyes;
	if (eyes.length === 2 && first && second) {
		const [aft, off] = less(second, first);
		const flat: Point = [aft, off, 0];
		if (dot(flat, flat) > 0)
			over = plus(first, flat, dot(less(middle, first), flat) / dot(flat, flat));
	}
	return [lift.hook_aft_m ?? over[0], lift.hook_off_m ?? over[1], up];
}

/** Degrees of each leg from the plumb line of the load at rest: hook to middle of mass. */
function anglesOf(hook: Point, middle: Point, eyes: readonly Point[]): readonly number[] {
	const [first, second] = eyes;
	const rests = eyes.length === 2 && first && second ? swung(middle, first, second) : middle;
	const down = less(rests, hook);
	return eyes.map((eye) => {
		const way = less(eye, hook);
		const cosine = dot(way, down) / (size(way) * size(down));
		return (Math.acos(Math.min(1, Math.max(-1, cosine))) * 180) / Math.PI;
	});
}

/** Two eyes are a hinge: the middle of mass comes to rest under the line between them. */
function swung(middle: Point, first: Point, second: Point): Point {
	const way = less(second, first);
	const line = plus([0, 0, 0], way, 1 / size(way));
	const foot = plus(first, line, dot(less(middle, first), line));
	const plumb = plus([0, 0, -1], line, line[2]);
	if (size(plumb) < TOO_NEAR_M) return middle;
	return plus(foot, plumb, size(less(middle, foot)) / size(plumb));
}

function less(a: Point, b: Point): Point {
	return [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
}

function plus(a: Point, b: Point, times: number): Point {
	return [a[0] + b[0] * times, a[1] + b[1] * times, a[2] + b[2] * times];
}

function dot(a: Point, b: Point): number {
	return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}

function size(a: Point): number {
	return Math.sqrt(dot(a, a));
}

function far(a: Point, b: Point): number {
	return size(less(a, b));
}
