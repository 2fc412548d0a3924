/** A thing that the rules keep out: why, by which source, and where they allow it, the way round. */
import { useState } from "preact/hooks";
import { citedBy, liftedIf, type Stopped } from "../../domain/apart.ts";
import { rules } from "../../storage/rules.ts";
import { LabelledInput } from "../../ui/LabelledInput.tsx";
import { Notice } from "../../ui/Notice.tsx";
import { theBoat } from "../common/drawn.ts";
import { streamName } from "./boxWords.ts";

interface Props {
	name: string;
	/** Where its answers are given, if they may yet lift the ban; null: none are open. */
	answersAt: string | null;
	stopped: Stopped;
	onLeave: () => void;
	onAllTheSame: (who: string, why: string) => void;
}

export function AllTheSame({ name, answersAt, stopped, onLeave, onAllTheSame }: Props) {
	const [asked, setAsked] = useState(false);
	const [who, setWho] = useState("");
	const [why, setWhy] = useState("");
	const [fault, setFault] = useState<string | null>(null);
	const { ban, beside } = stopped;
	const never = ban.only_if === "";
	const cited = rules.value ? citedBy(rules.value, theBoat()?.rule_set ?? null, ban) : ban.sources;
	const submit = (event: Event): void => {
		event.preventDefault();
		if (who.trim() === "" || why.trim() === "")
			setFault("It takes a name and a reason; both stand on the list and the handover.");
		else onAllTheSame(who.trim(), why.trim());
	};
	return (
		<>
			<Notice sort="danger" word="Stopped" role="alert">
				{name} may not go in beside {streamName(beside).toLowerCase()}. {ban.why}
				{!never && <p>{liftedIf(ban)}</p>}
				{never && (
					<p>
						Nothing lifts this. If it lies in there already, don’t pick it out by hand: lid on, and
						ask whoever takes the container.
					</p>
				)}
				{answersAt && (
					<p>
						Not all is known of it, so the cautious answer counts.{" "}
						<a href={answersAt}>Answer what is asked</a>, then put it in.
					</p>
				)}
				<p class="small">Source: {cited.join("; ")}.</p>
			</Notice>
			<div class="buttons">
				<button type="button" class="button button-main button-hot" onClick={onLeave}>
					Leave it out
				</button>
				{!never && !asked && (
					<button type="button" class="button" onClick={() => setAsked(true)}>
						Put it in all the same
					</button>
				)}
			</div>
			{asked && (
				<form class="part" onSubmit={submit}>
					<p class="part-note">
						{name} will stand as mixed on the container, the disposal list and the handover, with
						your name. {liftedIf(ban)}
					</p>
					<LabelledInput label="Who decides" longest={200} value={who} onType={setWho} />
					<LabelledInput
						label="Why it goes in all the same"
						longest={500}
						value={why}
						onType={setWhy}
					/>
					{fault && (
						<p class="field-fault" role="alert">
							{fault}
						</p>
					)}
					<button type="submit" class="button button-wide">
						Record it as mixed
					</button>
				</form>
			)}
		</>
	);
}
