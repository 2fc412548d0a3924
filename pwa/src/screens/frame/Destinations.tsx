/** The four places to go, in reach of a thumb. */
import { Icon } from "../../ui/Icon.tsx";
import { DESTINATIONS, liesUnder } from "./liesUnder.ts";

export function Destinations({ path }: { path: string }) {
	return (
		<nav class="destinations" aria-label="Main">
			{DESTINATIONS.map((one) => (
				<a key={one.path} href={one.path} aria-current={liesUnder(path, one) ? "page" : undefined}>
					<Icon name={one.icon} />
					{one.word}
				</a>
			))}
		</nav>
	);
}
