/** A long list of which only the beginning is made; more follows as the end comes into sight. */
import type { ComponentChildren } from "preact";
import { useEffect, useRef, useState } from "preact/hooks";

const AT_ONCE = 60;

interface Props<T> {
	of: readonly T[];
	/** Each with a key of its own. */
	children: (one: T) => ComponentChildren;
}

export function Growing<T>({ of, children }: Props<T>) {
	const [shown, setShown] = useState(AT_ONCE);
	const end = useRef<HTMLButtonElement>(null);
	const left = of.length - shown;
	const more = (): void => setShown((before) => before + AT_ONCE);
	// `shown` too: an end that is still in sight after growing is told of once only.
	useEffect(() => {
		if (!end.current) return;
		const watch = new IntersectionObserver((seen) => {
			if (seen.some(({ isIntersecting }) => isIntersecting)) more();
		});
		watch.observe(end.current);
		return () => watch.disconnect();
	}, [left > 0, shown]);
	return (
		<>
			{of.slice(0, shown).map(children)}
			{left > 0 && (
				<button type="button" class="button button-wide" ref={end} onClick={more}>
					Show more of the other {left}
				</button>
			)}
		</>
	);
}
