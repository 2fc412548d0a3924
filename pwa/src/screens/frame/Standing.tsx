/** The line at the top: which boat, whether its work is safe on the server, what asks to be settled. */
import { openClashes } from "../../sync/clashes.ts";
import { Mark } from "../../ui/State.tsx";
import { disputesOf } from "../clashes/disputes.ts";
import { theBoat } from "../common/drawn.ts";
import { standingWords } from "../common/standing.ts";
import { PATHS } from "../paths.ts";

const MARKS = { yes: "out", no: "danger", unknown: "plain" } as const;

export function Standing({ path }: { path: string }) {
	const { words, safe } = standingWords();
	// Unsent work needs the room for its words; the clashes are then found where it is listed.
	const clashes = disputesOf(openClashes.value).length;
	return (
		<header class="top">
			<a class="standing" href={PATHS.kept}>
				<span class="standing-boat">{theBoat()?.name ?? "Shedtally"}</span>
				<span class="standing-state" role="status" data-safe={safe}>
					<span>{words}</span>
					<Mark is={MARKS[safe]} />
				</span>
			</a>
			{clashes > 0 && safe !== "no" && path !== PATHS.clashes && (
				<a class="standing-clashes" href={PATHS.clashes}>
					<Mark is="waits" />
					<span>
						{clashes === 1 ? "1 clash" : `${clashes} clashes`}
						<span class="spoken"> to settle</span>
					</span>
				</a>
			)}
		</header>
	);
}
