/** The line at the top: which boat, and whether its work is safe on the server. */
import { Mark } from "../../ui/State.tsx";
import { theBoat } from "../common/drawn.ts";
import { standingWords } from "../common/standing.ts";
import { PATHS } from "../paths.ts";

const MARKS = { yes: "out", no: "danger", unknown: "plain" } as const;

export function Standing() {
	const { words, safe } = standingWords();
	return (
		<header>
			<a class="standing" href={PATHS.kept}>
				<span class="standing-boat">{theBoat()?.name ?? "Shedtally"}</span>
				<span class="standing-state" role="status" data-safe={safe}>
					<span>{words}</span>
					<Mark is={MARKS[safe]} />
				</span>
			</a>
		</header>
	);
}
