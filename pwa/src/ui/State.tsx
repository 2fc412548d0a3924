/** A state in words, with a shape that says the same in grey and a colour that agrees. */
import { Unbroken } from "./Tag.tsx";

const SHAPES = {
	/** Filled square: out, done, safe. */
	out: <rect x="1" y="1" width="10" height="10" />,
	/** Open square: still to do, ready. */
	plain: <rect x="1.5" y="1.5" width="9" height="9" fill="none" />,
	/** Half square: waits for something, assumed, asks. */
	waits: (
		<g>
			<rect x="1.5" y="1.5" width="9" height="9" fill="none" />
			<path d="M1.5 10.5 10.5 1.5V10.5z" stroke="none" />
		</g>
	),
	/** Standing triangle: danger, or work not yet safe. */
	danger: <path d="M6 1 11 11H1z" />,
} as const;

export type StateName = keyof typeof SHAPES;

export function Mark({ is }: { is: StateName }) {
	return (
		<svg
			class="mark"
			viewBox="0 0 12 12"
			fill="currentColor"
			stroke="currentColor"
			aria-hidden="true"
		>
			{SHAPES[is]}
		</svg>
	);
}

export function State({ is, children }: { is: StateName; children: string }) {
	return (
		<span class={`state state-${is}`}>
			<Mark is={is} />
			<span>
				<Unbroken text={children} />
			</span>
		</span>
	);
}
