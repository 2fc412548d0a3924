/** The part of the frame that scrolls: a heading that takes the focus, and what is under it. */
import type { ComponentChildren } from "preact";
import { useLayoutEffect, useRef } from "preact/hooks";
import { Icon } from "./Icon.tsx";
import { address, back } from "./router.ts";

interface Props {
	title: string;
	/** One line under the heading. */
	under?: ComponentChildren;
	/** Where "Back" leads when there is no earlier page; left out on the four main screens. */
	backTo?: string;
	/** Stands above the heading, from edge to edge. */
	above?: ComponentChildren;
	children: ComponentChildren;
}

export function Screen({ title, under, backTo, above, children }: Props) {
	const main = useRef<HTMLElement>(null);
	const heading = useRef<HTMLHeadingElement>(null);
	useLayoutEffect(() => {
		document.title = `${title} · Shedtally`;
	}, [title]);
	useLayoutEffect(() => {
		heading.current?.focus({ preventScroll: true });
		main.current?.scrollTo(0, address.peek().scroll);
	}, []);
	return (
		<main class="screen" ref={main}>
			<div class="screen-inner">
				{backTo && (
					<button type="button" class="button button-quiet back" onClick={() => back(backTo)}>
						<Icon name="back" /> Back
					</button>
				)}
				{above}
				<header class="screen-head">
					<h1 ref={heading} tabIndex={-1}>
						{title}
					</h1>
					{under && <p>{under}</p>}
				</header>
				{children}
			</div>
		</main>
	);
}
