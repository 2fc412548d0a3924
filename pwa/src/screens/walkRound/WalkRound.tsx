/** The walk-round: what is aboard, listed compartment by compartment before work begins. */
import { useState } from "preact/hooks";
import type { Survey } from "../../domain/rules.ts";
import { flatten } from "../../domain/tree.ts";
import { boat, newKey } from "../../storage/boat.ts";
import { rules } from "../../storage/rules.ts";
import { Notice } from "../../ui/Notice.tsx";
import { address } from "../../ui/router.ts";
import { Screen } from "../../ui/Screen.tsx";
import { count } from "../../ui/words.ts";
import { byStation } from "../boat/Compartments.tsx";
import { theBoat } from "../common/drawn.ts";
import { keepOrSay } from "../common/keeping.ts";
import { TickRow } from "../common/TickRow.tsx";
import { PATHS } from "../paths.ts";
import { InCompartment } from "./InCompartment.tsx";
import { listedCount, templateEdits } from "./template.ts";
import "./walkRound.css";

export function WalkRound() {
	const compartments = boat.table("compartment").value;
	const chosen = compartments.get(address.value.query.get("in") ?? "");
	if (chosen) return <InCompartment key={chosen.key} compartment={chosen} />;
	return (
		<Screen title="Walk round" backTo={PATHS.work}>
			{compartments.size === 0 ? <Templates /> : <Choose />}
		</Screen>
	);
}

function Choose() {
	const listed = new Map<string, number>();
	for (const { compartment, count: pieces } of boat.table("item").value.values())
		if (compartment) listed.set(compartment, (listed.get(compartment) ?? 0) + (pieces ?? 1));
	return (
		<>
			<p class="part-note">Begin anywhere. What comes out without being listed counts too.</p>
			<div class="rows">
				{flatten(boat.table("compartment").value, byStation).map(({ node, depth }) => (
					<a
						key={node.key}
						class="row pick-row"
						data-depth={Math.min(depth, 4)}
						href={`${PATHS.walkRound}?in=${node.key}`}
					>
						<span class="row-main">{node.name ?? "unnamed"}</span>
						<span class="row-count">{count(listed.get(node.key) ?? 0, "piece")}</span>
					</a>
				))}
			</div>
		</>
	);
}

function Templates() {
	const [survey, setSurvey] = useState<Survey | null>(null);
	const surveys = rules.value?.surveys ?? [];
	if (survey) return <Preview survey={survey} onBack={() => setSurvey(null)} />;
	return (
		<>
			<p>Which of these is the boat most like? Nothing is made before you have looked it over.</p>
			{surveys.length === 0 && (
				<Notice sort="asks">
					The usual compartments come with the next sync. Until then name your own under Boat,
					Compartments.
				</Notice>
			)}
			<div class="buttons">
				{surveys.map((one) => (
					<button
						key={one.id}
						type="button"
						class="button button-wide button-hot walk-template"
						onClick={() => setSurvey(one)}
					>
						<span class="row-main">
							<span class="row-title">{one.name}</span>
							<span class="row-under">{one.about}</span>
						</span>
					</button>
				))}
			</div>
			<a class="button button-quiet" href={PATHS.compartments}>
				None of them: name my own
			</a>
		</>
	);
}

function Preview({ survey, onBack }: { survey: Survey; onBack: () => void }) {
	const [struck, setStruck] = useState<ReadonlySet<string>>(new Set());
	const [listing, setListing] = useState(false);
	const [fault, setFault] = useState<string | null>(null);
	const length = theBoat()?.length_m ?? null;
	const left = survey.compartments.length - struck.size;
	const toggle = (id: string): void => {
		const next = new Set(struck);
		if (!next.delete(id)) next.add(id);
		setStruck(next);
	};
	const { pieces, orders } = listedCount(survey, struck);
	const accept = async (): Promise<void> => {
		const edits = templateEdits(survey, { struck, listing }, length, newKey);
		const own = boat.key.value;
		// The boat remembers its survey: a phone offers the kinds and counts of that one.
		if (own) edits.push({ table: "boat", key: own, set: { survey: survey.id } });
		setFault(await keepOrSay(edits));
	};
	return (
		<>
			<h2>{survey.name}</h2>
			<p class="part-note">
				Tap what this boat has not.{" "}
				{length === null
					? "The boat's length is not known, so their places along it stay open."
					: `Their places are shares of ${length} m; each can be changed.`}
			</p>
			<div class="rows">
				{survey.compartments.map(({ id, name, level }) => (
					<button
						key={id}
						type="button"
						class="row pick-row"
						aria-pressed={!struck.has(id)}
						onClick={() => toggle(id)}
					>
						<span class="row-main">
							<span class={struck.has(id) ? "walk-struck" : "row-title"}>{name}</span>
						</span>
						<span class="row-count">{struck.has(id) ? "Not here" : level}</span>
					</button>
				))}
			</div>
			<TickRow
				title="List what is usual there too"
				under={`${count(pieces, "piece")}, and ${count(orders, "order")} of work`}
				ticked={listing}
				onTurn={() => setListing(!listing)}
			/>
			<p class="part-note">
				Without the tick they are empty, and each piece is listed by a tap when you stand before it.
				Whatever is listed can be changed or put in the bin.
			</p>
			{fault && (
				<Notice sort="asks" role="alert">
					{fault}
				</Notice>
			)}
			<div class="buttons">
				<button
					type="button"
					class="button button-main button-wide button-hot"
					aria-disabled={left === 0}
					onClick={() => {
						if (left > 0) void accept();
					}}
				>
					Make {count(left, "compartment")}
				</button>
				<button type="button" class="button" onClick={onBack}>
					Another sort of boat
				</button>
			</div>
		</>
	);
}
