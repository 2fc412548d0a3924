/** Addresses and moving between them. Plain `<a href>` works; this keeps the page loaded. */
import { type ReadonlySignal, signal } from "@preact/signals";

export interface Address {
	readonly path: string;
	readonly query: URLSearchParams;
	/** Where the screen was scrolled to when it was left; 0 for a fresh visit. */
	readonly scroll: number;
}

const LEFT_TO_THE_SERVER = /^\/(api|setup)(\/|$)/;

const current = signal<Address>(read(0));

export const address: ReadonlySignal<Address> = current;

/** Open `to`, a path with an optional query. `replace` leaves no step back to the present one. */
export function go(to: string, options: { replace?: boolean } = {}): void {
	rememberScroll();
	if (options.replace) history.replaceState({ scroll: 0 }, "", to);
	else history.pushState({ scroll: 0 }, "", to);
	current.value = read(0);
}

/** One step back, or to `otherwise` when this is the first page that was opened. */
export function back(otherwise: string): void {
	if (history.state && "scroll" in history.state) history.back();
	else go(otherwise, { replace: true });
}

/** Listen to links and to the back button. Call once. */
export function startRouter(): void {
	history.scrollRestoration = "manual";
	window.addEventListener("popstate", (event) => {
		current.value = read(Number((event as PopStateEvent).state?.scroll ?? 0));
	});
	document.addEventListener("click", (event) => {
		const to = ourLink(event);
		if (!to) return;
		event.preventDefault();
		go(to);
	});
}

function ourLink(event: MouseEvent): string | null {
	if (event.defaultPrevented || event.button !== 0) return null;
	if (event.metaKey || event.ctrlKey || event.shiftKey || event.altKey) return null;
	const link = event.target instanceof Element ? event.target.closest("a[href]") : null;
	if (!(link instanceof HTMLAnchorElement) || link.target || link.hasAttribute("download"))
		return null;
	const url = new URL(link.href);
	if (url.origin !== location.origin || LEFT_TO_THE_SERVER.test(url.pathname)) return null;
	return url.pathname + url.search + url.hash;
}

function read(scroll: number): Address {
	return { path: location.pathname, query: new URLSearchParams(location.search), scroll };
}

function rememberScroll(): void {
	const top = document.querySelector(".screen")?.scrollTop ?? 0;
	history.replaceState({ ...history.state, scroll: top }, "");
}
