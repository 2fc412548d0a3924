/** The four places to go, and which of them each address lies under. */
import type { IconName } from "../../ui/Icon.tsx";
import { PATHS } from "../paths.ts";

/** The way to a place, and what else lies under it: addresses by their first part. */
export interface Destination {
	readonly path: string;
	readonly word: string;
	readonly icon: IconName;
	readonly holds: string;
}

export const DESTINATIONS: readonly Destination[] = [
	{ path: PATHS.takeOut, word: "Take out", icon: "camera", holds: "" },
	{ path: PATHS.find, word: "Find", icon: "find", holds: "find item t" },
	{
		path: PATHS.left,
		word: "Lists",
		icon: "lists",
		holds:
			"left work jobs orders walk-round photo waste containers handovers masses weigh scrap " +
			"renewals circuits piping wiring back",
	},
	{
		path: PATHS.boat,
		word: "Boat",
		icon: "boat",
		holds:
			"boat lifts trim tanks compartments places tags kept clashes bin storage devices new-boat pair",
	},
];

/** Whether an address lies under a destination. */
export function liesUnder(path: string, { holds }: Destination): boolean {
	const [, part = ""] = path.split("/");
	return holds.split(" ").includes(part.toLowerCase());
}
