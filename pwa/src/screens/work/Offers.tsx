/** Orders that usually hold, each to be accepted with a tap or turned down. */
import { useEffect, useState } from "preact/hooks";
import type { Proposal } from "../../domain/contract.ts";
import { uuid7 } from "../../domain/key.ts";
import { isToTakeOut } from "../../domain/recount.ts";
import { ringThrough } from "../../domain/steps.ts";
import { binned } from "../../storage/bin.ts";
import { boat, keep } from "../../storage/boat.ts";
import { rules } from "../../storage/rules.ts";
import { Notice } from "../../ui/Notice.tsx";
import { theBoat } from "../common/drawn.ts";
import { ringWords, targetName } from "../orders/targets.ts";
import { surveyOrders } from "../walkRound/template.ts";
import { isOpen, workRecords } from "./open.ts";

export function Offers({ proposals }: { proposals: readonly Proposal[] }) {
	const [said, setSaid] = useState<string | null>(null);
	const turnedDown = useTurnedDown();
	const [gone, setGone] = useState<ReadonlySet<string>>(new Set());
	const befores = [...boat.table("before").value.values()];
	const written = new Set(befores.map(({ first, then }) => `${first} ${then}`));
	const offered = new Map([...proposals, ...ofTheSurvey()].map((row) => [pairOf(row), row]));
	const here = [...offered.values()].filter(
		(row) =>
			!turnedDown.has(pairOf(row)) &&
			!gone.has(pairOf(row)) &&
			!written.has(pairOf(row)) &&
			isOpen(row.first) &&
			(isOpen(row.then) || row.then.startsWith("compartment/")),
	);
	const settle = async (row: Offer, accepted: boolean): Promise<void> => {
		const ring = accepted ? ringThrough(workRecords(), row.first, row.then) : [];
		if (ring.length > 0) {
			setSaid(`Not kept, for it would close a ring: ${ringWords(ring)}. Take one of these back.`);
			return;
		}
		const key = uuid7(Date.now());
		const set = { first: row.first, then: row.then, why: row.why };
		// One that is turned down is kept in the bin, so that no phone offers it again.
		await keep([{ table: "before", key, set: accepted ? set : { ...set, binned: true } }]);
		setGone(new Set([...gone, pairOf(row)]));
		setSaid(accepted ? `Kept: ${row.first_name} first.` : "It is not offered again.");
	};
	if (here.length === 0 && !said) return null;
	return (
		<section class="part">
			<h2>What usually comes first</h2>
			<p class="part-note">Accept what holds on this boat. Each can be taken back.</p>
			{said && (
				<Notice sort="plain" role="status">
					{said}
				</Notice>
			)}
			<ul class="rows">
				{here.slice(0, 8).map((row) => (
					<li key={pairOf(row)} class="row offer">
						<span class="row-main">
							<span class="row-title">{row.first_name}</span>
							<span>before {row.then_name}</span>
							<span class="row-under">{row.why}</span>
						</span>
						<span class="buttons">
							<button
								type="button"
								class="button"
								aria-label={`Yes, ${row.first_name} before ${row.then_name}`}
								onClick={() => void settle(row, true)}
							>
								Yes
							</button>
							<button
								type="button"
								class="button button-quiet"
								aria-label={`Not here: ${row.first_name} before ${row.then_name}`}
								onClick={() => void settle(row, false)}
							>
								Not here
							</button>
						</span>
					</li>
				))}
			</ul>
			{here.length > 8 && <p class="part-note">{here.length - 8} more after these.</p>}
		</section>
	);
}

type Offer = Pick<Proposal, "first" | "first_name" | "then" | "then_name" | "why">;

/** What the boat's survey says of the items that are listed; known without the server. */
function ofTheSurvey(): Offer[] {
	const survey = rules.value?.surveys.find(({ id }) => id === theBoat()?.survey);
	if (!survey) return [];
	const aboard = [...boat.table("item").value.values()].filter((item) => isToTakeOut(item));
	return surveyOrders(survey, boat.table("compartment").value.values(), aboard).map((row) => ({
		...row,
		first_name: targetName(row.first),
		then_name: targetName(row.then),
	}));
}

/** Orders in the bin: those that somebody turned down or took back. */
function useTurnedDown(): ReadonlySet<string> {
	const [found, setFound] = useState<ReadonlySet<string>>(new Set());
	const written = boat.table("before").value;
	useEffect(() => {
		let wanted = true;
		void binned("before").then((rows) => {
			const pairs = rows.map(({ record: { first, then } }) => `${first} ${then}`);
			if (wanted) setFound(new Set(pairs));
		});
		return () => {
			wanted = false;
		};
	}, [written]);
	return found;
}

function pairOf({ first, then }: Offer): string {
	return `${first} ${then}`;
}
