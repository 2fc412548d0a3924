/** A figure keeps its unit on its line, on every screen: a unit alone on a line is misread. */
import { type ComponentChild, options } from "preact";

const UNIT =
	"(?:mm2?|cm|m|ft|in|kg|g|L|V|A|Ah|W|kW|kN|N|h|min|%|°C|MB|GB|kB|EUR|GBP|USD|CAD)(?![\\w/-])";
const MONTH =
	"(?:January|February|March|April|May|June|July|August|September|October|November|December)\\b";
const TIED = new RegExp(`(\\d) (?=${UNIT}|${MONTH}|\\d+/\\d)|(AWG|no\\.) (?=\\d)`, "g");
const TIMES = /(\d) x (?=\d)/g;
const LED = new RegExp(`^ (?=${UNIT})`);
const LEADS = new RegExp(`^${UNIT}`);
const DIGIT = /\d$/;
/** What shows text as it is, or has no lines to break. */
const BARE = new Set(["option", "textarea", "title", "style", "script"]);

/** The text with a space that holds where a figure and its unit meet. */
export function tied(text: string): string {
	return text.replace(TIED, "$1$2\u00a0").replace(TIMES, "$1\u00a0x\u00a0");
}

/** Children of an element, tied one by one, and a unit to the figure in the child before it. */
export function tiedChildren(children: readonly ComponentChild[]): ComponentChild[] {
	return children.map((child, at) => {
		if (Array.isArray(child)) return tiedChildren(child);
		if (typeof child !== "string") return child;
		const before = children[at - 1];
		const led = typeof before !== "object" && DIGIT.test(String(before ?? ""));
		if (!led) return tied(child);
		// A unit may be a child of its own, with nothing but the space between.
		if (child === " " && LEADS.test(String(children[at + 1] ?? ""))) return "\u00a0";
		return tied(child.replace(LED, "\u00a0"));
	});
}

/** From now on every text in an element is tied as it is made. */
export function tieUnits(): void {
	const next = options.vnode;
	options.vnode = (vnode) => {
		if (typeof vnode.type === "string" && !BARE.has(vnode.type)) {
			const props = vnode.props as { children?: ComponentChild | ComponentChild[] };
			const { children } = props;
			if (typeof children === "string") props.children = tied(children);
			else if (Array.isArray(children)) props.children = tiedChildren(children);
		}
		next?.(vnode);
	};
}
