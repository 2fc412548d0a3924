/** A plan for one sitting: how long, how many people, and what to do in which order. */
import { useState } from "preact/hooks";
import type { Sitting, Turn } from "../../domain/contract.ts";
import { pathOf } from "../../domain/tree.ts";
import { boat } from "../../storage/boat.ts";
import { fetchSitting, lists } from "../../sync/lists.ts";
import { askedInVain, SyncTrouble } from "../../sync/problem.ts";
import { syncState } from "../../sync/state.ts";
import { Choice } from "../../ui/Choice.tsx";
import { Icon } from "../../ui/Icon.tsx";
import { Notice } from "../../ui/Notice.tsx";
import { Screen } from "../../ui/Screen.tsx";
import { State } from "../../ui/State.tsx";
import { ago } from "../../ui/words.ts";
import { PATHS } from "../paths.ts";
import { isOpen } from "./open.ts";
import { hrefOf } from "./Work.tsx";
import "./work.css";

const HOURS = ["2", "4", "8"] as const;
const PEOPLE = ["1", "2", "3"] as const;
const MIX = ["as it comes", "hard, then light"] as const;

export function SittingScreen() {
	const last = lists.value.sitting;
	const [hours, setHours] = useState<string>("4");
	const [people, setPeople] = useState<string>("2");
	const [mix, setMix] = useState<string>(MIX[0]);
	const [asking, setAsking] = useState(false);
	const [fault, setFault] = useState<string | null>(null);
	const plan = async (): Promise<void> => {
		if (asking) return;
		setAsking(true);
		setFault(null);
		try {
			await fetchSitting({ hours: Number(hours), people: Number(people), mix: mix === MIX[1] });
		} catch (error) {
			if (!(error instanceof SyncTrouble)) throw error;
			setFault(`The last plan stays below. ${askedInVain(error.problem)}`);
		} finally {
			setAsking(false);
		}
	};
	return (
		<Screen title="Plan a sitting" backTo={PATHS.work}>
			<Choice
				name="sitting-hours"
				legend="Hours"
				options={HOURS.map((value) => ({ value, label: value }))}
				value={hours}
				onChange={(value) => setHours(value ?? "4")}
			/>
			<Choice
				name="sitting-people"
				legend="People"
				options={PEOPLE.map((value) => ({ value, label: value }))}
				value={people}
				onChange={(value) => setPeople(value ?? "2")}
			/>
			<Choice
				name="sitting-mix"
				legend="Hard work"
				options={MIX.map((value) => ({ value, label: value }))}
				value={mix}
				onChange={(value) => setMix(value ?? MIX[0])}
			/>
			<button
				type="button"
				class="button button-main button-wide button-hot part-tight"
				onClick={() => void plan()}
			>
				{asking ? "Asking the server" : "Plan it"}
			</button>
			{fault && (
				<Notice sort="asks" role="status">
					{fault}
				</Notice>
			)}
			{last ? (
				<Plan plan={last.list} mix={mix === MIX[1]} madeAt={last.madeAt} />
			) : (
				<p class="part-note">The server makes the plan; once made, it stays on this phone.</p>
			)}
		</Screen>
	);
}

function Plan({ plan, mix, madeAt }: { plan: Sitting; mix: boolean; madeAt: string }) {
	const made = ago(Date.parse(madeAt), Date.now() + syncState.value.clockOffsetMs);
	return (
		<section class="part">
			<h2>
				{plan.hours} hours, {plan.people === 1 ? "1 person" : `${plan.people} people`}
			</h2>
			<p class="part-note">Made {made}, at your pace. Stop when you are tired.</p>
			<ol class="rows">
				{plan.turns.map((turn) => (
					<TurnRow key={turn.target} turn={turn} />
				))}
			</ol>
			{plan.turns.length === 0 && <p>Nothing that is ready fits into it.</p>}
			{boat.key.value && (
				<a
					class="button button-wide part-tight"
					href={`/api/boats/${boat.key.value}/lists/sitting.pdf?hours=${plan.hours}&people=${plan.people}&mix=${mix}`}
					target="_blank"
					rel="noreferrer"
				>
					<Icon name="print" /> Print (PDF)
				</a>
			)}
			{plan.passed_over.length > 0 && (
				<>
					<h3>Left out</h3>
					<ul class="rows">
						{plan.passed_over.map(([name, why]) => (
							<li key={name} class="row">
								<span class="row-main">
									<span class="row-title">{name}</span>
									<span class="row-under">{why}</span>
								</span>
							</li>
						))}
					</ul>
				</>
			)}
		</section>
	);
}

function TurnRow({ turn }: { turn: Turn }) {
	const done = !turn.target.startsWith("safe/") && !isOpen(turn.target);
	const place = pathOf(boat.table("compartment").value, turn.compartment || null).join(" › ");
	const about = [place, turn.toil, turn.dirty ? "dirty" : ""].filter(Boolean).join(" · ");
	return (
		<li>
			<a class="row" href={hrefOf(turn.target)}>
				<span class="turn-time">
					{clockOf(turn.start)}
					<small>to {clockOf(turn.start + turn.hours)}</small>
				</span>
				<span class="row-main">
					<span class="row-title">{turn.name}</span>
					<span class="row-under">{about}</span>
					{turn.people > 1 && <State is="plain">{`${turn.people} people`}</State>}
					{turn.sparks && <State is="danger">sparks: nothing of fuel or gas open</State>}
					{turn.vapour && <State is="danger">fuel or gas open: no sparks, air it</State>}
					{turn.opens > 0 && <span class="row-under">opens {turn.opens} more</span>}
					{turn.goes_on && <State is="waits">goes on next time</State>}
					{done && <State is="out">done</State>}
				</span>
			</a>
		</li>
	);
}

/** Hours from the beginning as `0:45`. */
function clockOf(hours: number): string {
	const minutes = Math.round(hours * 12) * 5;
	return `${Math.floor(minutes / 60)}:${String(minutes % 60).padStart(2, "0")}`;
}
