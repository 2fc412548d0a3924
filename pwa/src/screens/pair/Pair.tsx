/** Pairing this phone with the shed's server, by a code that the server or another phone shows. */
import { useId, useState } from "preact/hooks";
import { boat } from "../../storage/boat.ts";
import { SyncTrouble } from "../../sync/problem.ts";
import { pair, session } from "../../sync/session.ts";
import { Under } from "../../ui/Field.tsx";
import { go } from "../../ui/router.ts";
import { Screen } from "../../ui/Screen.tsx";
import { PATHS } from "../paths.ts";

export function Pair() {
	const [code, setCode] = useState(codeFromAddress);
	const [name, setName] = useState(session.peek().deviceName);
	const [fault, setFault] = useState<string | null>(null);
	const [asking, setAsking] = useState(false);
	const id = useId();
	const submit = async (event: Event): Promise<void> => {
		event.preventDefault();
		if (asking) return;
		if (code.trim() === "" || name.trim() === "") {
			setFault("Both the code and a name for this phone are needed.");
			return;
		}
		setAsking(true);
		setFault(null);
		try {
			await pair(code, name.trim());
			const some = boat.key.value !== null || session.value.boats.length > 0;
			go(some ? PATHS.takeOut : PATHS.newBoat, { replace: true });
		} catch (error) {
			if (!(error instanceof SyncTrouble)) throw error;
			setFault(error.answer?.detail || error.message);
		} finally {
			setAsking(false);
		}
	};
	return (
		<Screen
			title="Pair this phone"
			under="Once for each phone; after that it works with no signal."
			above={<Welcome />}
		>
			<form onSubmit={(event) => void submit(event)}>
				<div class="field">
					<label class="field-label" for={`${id}-code`}>
						Pairing code
					</label>
					<input
						id={`${id}-code`}
						class="input input-code"
						type="text"
						autoComplete="one-time-code"
						autoCapitalize="characters"
						spellcheck={false}
						aria-invalid={fault ? "true" : undefined}
						aria-describedby={`${id}-fault`}
						value={code}
						onInput={(event) => setCode(event.currentTarget.value)}
					/>
					<Under
						id={`${id}-fault`}
						fault={fault}
						hint="The server shows it when it starts; a paired phone shows one under Boat, Phones."
					/>
				</div>
				<div class="field">
					<label class="field-label" for={`${id}-name`}>
						Name of this phone
					</label>
					<input
						id={`${id}-name`}
						class="input"
						type="text"
						autoComplete="off"
						maxLength={60}
						value={name}
						onInput={(event) => setName(event.currentTarget.value)}
					/>
					<p class="field-hint">The history shows it, so that you know who took what out.</p>
				</div>
				<div class="buttons">
					<button type="submit" class="button button-main button-wide" aria-disabled={asking}>
						{asking ? "Pairing" : "Pair"}
					</button>
				</div>
			</form>
			<p class="part part-note">Camera or offline use refused by the browser?</p>
			<div class="buttons">
				<a class="button button-wide" href="/setup">
					Set this phone up first
				</a>
			</div>
		</Screen>
	);
}

/** The first thing that a new phone shows: what this is. */
function Welcome() {
	if (session.value.server !== null) return null;
	return (
		<div class="welcome">
			<div class="tag">
				<div class="tag-card">
					<span class="tag-hole" aria-hidden="true" />
					<div class="tag-words">
						<p class="tag-code">Shedtally</p>
						<p class="tag-where">The memory of a boat that is being taken apart</p>
					</div>
				</div>
			</div>
		</div>
	);
}

/** The code stands after the #, which browsers don't send; it leaves the address bar at once. */
function codeFromAddress(): string {
	const code = decodeURIComponent(location.hash.slice(1));
	if (code) history.replaceState(history.state, "", location.pathname);
	return code;
}
