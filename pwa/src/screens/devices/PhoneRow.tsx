/** One paired phone: its name, when it was here, what is known to wait on it, and shutting it out. */
import { useState } from "preact/hooks";
import type { PairedPhone } from "../../sync/devices.ts";
import { session } from "../../sync/session.ts";
import { syncState } from "../../sync/state.ts";
import { Sheet } from "../../ui/Sheet.tsx";
import { State } from "../../ui/State.tsx";
import { ago, count } from "../../ui/words.ts";
import { waitingWords } from "../common/standing.ts";

interface Props {
	phone: PairedPhone;
	onShutOut?: () => Promise<void>;
}

export function PhoneRow({ phone, onShutOut }: Props) {
	const [asking, setAsking] = useState(false);
	const mine = phone.device === session.value.device;
	return (
		<li class="row">
			<span class="row-main">
				<span class="row-title">{phone.name || "Unnamed phone"}</span>
				<span class="row-under">{mine ? "This phone" : seen(phone)}</span>
				<span class="row-under">{mine ? <OwnWaiting /> : received(phone)}</span>
			</span>
			{!mine && onShutOut && (
				<button
					type="button"
					class="button"
					aria-label={`Shut out ${phone.name}`}
					onClick={() => setAsking(true)}
				>
					Shut out
				</button>
			)}
			{asking && onShutOut && (
				<ShutOutSheet
					name={phone.name || "this phone"}
					onYes={() => {
						setAsking(false);
						void onShutOut();
					}}
					onClose={() => setAsking(false)}
				/>
			)}
		</li>
	);
}

function OwnWaiting() {
	const waiting = waitingWords(syncState.value);
	return waiting ? (
		<State is="danger">{`${waiting} not sent yet`}</State>
	) : (
		<State is="out">Everything sent</State>
	);
}

function seen({ last_seen: at }: PairedPhone): string {
	return at ? `Seen ${ago(Date.parse(at), Date.now())}` : "Never seen";
}

/** What a phone has not sent, only that phone knows; what arrived from it is known here. */
function received({ last_seq: edits = 0, revoked }: PairedPhone): string {
	const words =
		edits === 0 ? "No edits received from it" : `${count(edits, "edit")} received from it`;
	return revoked ? `${words}; later ones come by a rescue file` : words;
}

/** It can't be taken back by a tap, so it says first what it does. */
function ShutOutSheet(props: { name: string; onYes: () => void; onClose: () => void }) {
	const { name, onYes, onClose } = props;
	return (
		<Sheet title={`Shut ${name} out?`} onClose={onClose}>
			<ul class="steps">
				<li>From its next request on it can neither read nor send anything.</li>
				<li>What it has sent stays, under its name.</li>
				<li>
					What it has not sent stays on it. It can be saved there as a file, and brought in here.
				</li>
				<li>It comes back only with a new pairing code.</li>
			</ul>
			<div class="buttons">
				<button type="button" class="button button-main button-wide" onClick={onYes}>
					Shut {name} out
				</button>
			</div>
		</Sheet>
	);
}
