/** The four places to go, in reach of a thumb. */
import { Icon, type IconName } from "../../ui/Icon.tsx";
import { PATHS } from "../paths.ts";

const DESTINATIONS: readonly { path: string; word: string; icon: IconName; also: RegExp }[] = [
	{ path: PATHS.takeOut, word: "Take out", icon: "camera", also: /^\/$/ },
	{ path: PATHS.find, word: "Find", icon: "find", also: /^\/(find|item|t)(\/|$)/i },
	{ path: PATHS.left, word: "Lists", icon: "lists", also: /^\/(left|waste|renewals)(\/|$)/ },
	{
		path: PATHS.boat,
		word: "Boat",
		icon: "boat",
		also: /^\/(boat|compartments|places|tags|kept|clashes|bin|storage|devices|new-boat|pair)(\/|$)/,
	},
];

export function Destinations({ path }: { path: string }) {
	return (
		<nav class="destinations" aria-label="Main">
			{DESTINATIONS.map(({ path: to, word, icon, also }) => (
				<a key={to} href={to} aria-current={also.test(path) ? "page" : undefined}>
					<Icon name={icon} />
					{word}
				</a>
			))}
		</nav>
	);
}
