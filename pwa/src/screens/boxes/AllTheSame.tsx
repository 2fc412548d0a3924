/** A thing that the rules keep out: why, by which source, and the one way round, with a name. */
import { useState } from "preact/hooks";
import type { Stopped } from "../../domain/apart.ts";
import { Notice } from "../../ui/Notice.tsx";
import { streamName } from "./boxWords.ts";

interface Props {
	name: string;
	stopped: Stopped;
	onLeave: () => void;
	onAllTheSame: (who: string, why: string) => void;
}

export function AllTheSame({ name, stopped, onLeave, onAllTheSame }: Props) {
	const [asked, setAsked] = useState(false);
	const [who, setWho] = useState("");
	const [why, setWhy] = useState("");
	const [fault, setFault] = useState<string | null>(null);
	const { ban, beside } = stopped;
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
				{ban.only_if && <p>Allowed only if: {ban.only_if}</p>}
				<p class="small">Source: {ban.sources.join("; ")}.</p>
			</Notice>
			<div class="buttons">
				<button type="button" class="button button-main button-hot" onClick={onLeave}>
					Leave it out
				</button>
				{!asked && (
					<button type="button" class="button" onClick={() => setAsked(true)}>
						It is in there already
					</button>
				)}
			</div>
			{asked && (
				<form class="part" onSubmit={submit}>
					<p class="part-note">
						It will stand on the container, the disposal list and the handover, with your name.
					</p>
					<label class="field">
						<span class="field-label">Who put it in</span>
						<input
							class="input"
							maxLength={200}
							value={who}
							onInput={(event) => setWho(event.currentTarget.value)}
						/>
					</label>
					<label class="field">
						<span class="field-label">Why it can't be taken out</span>
						<input
							class="input"
							maxLength={500}
							value={why}
							onInput={(event) => setWhy(event.currentTarget.value)}
						/>
					</label>
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
