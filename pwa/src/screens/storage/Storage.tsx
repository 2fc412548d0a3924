/** The room on this phone: how much, what may use it, and what would go first. */
import { useEffect, useState } from "preact/hooks";
import { trimPhotos } from "../../storage/budget.ts";
import { storageWarning } from "../../storage/danger.ts";
import { type Holdings, holdings } from "../../storage/holdings.ts";
import { askToPersist, isInstalled, type Usage, usage } from "../../storage/quota.ts";
import { setBudgetMb, setKeepAll, setSendPhotosOn, settings } from "../../storage/settings.ts";
import { secure } from "../../sw/update.ts";
import { syncState } from "../../sync/state.ts";
import { Choice } from "../../ui/Choice.tsx";
import { TextField } from "../../ui/Field.tsx";
import { Meter } from "../../ui/Meter.tsx";
import { Notice } from "../../ui/Notice.tsx";
import { Screen } from "../../ui/Screen.tsx";
import { State } from "../../ui/State.tsx";
import { count, size } from "../../ui/words.ts";
import { faultOf } from "../common/keeping.ts";
import { SaveUnsent } from "../common/SaveUnsent.tsx";
import { PATHS } from "../paths.ts";

const MB = 1_000_000;
const MOST_MB = 100_000;

export function Storage() {
	const { unsentBytes, unsentChanges, unsentPhotos, photoBytesSent } = syncState.value;
	const [room, setRoom] = useState<Usage | null>(null);
	const [held, setHeld] = useState<Holdings | null>(null);
	const [fault, setFault] = useState<string | null>(null);
	const [counted, setCounted] = useState(0);
	useEffect(() => {
		void usage().then(setRoom);
		void holdings().then(setHeld);
	}, [unsentBytes, photoBytesSent, counted]);
	const attempt = async (work: () => Promise<unknown>): Promise<void> => {
		setFault(await faultOf(work));
		setCounted(counted + 1);
	};
	return (
		<Screen title="Storage of this phone" backTo={PATHS.boat}>
			{fault && (
				<Notice sort="danger" role="alert">
					{fault}
				</Notice>
			)}
			<Room room={room} />
			<Promised room={room} unsent={unsentChanges + unsentPhotos} onAsk={attempt} />
			<Held held={held} attempt={attempt} />
			<Rules attempt={attempt} />
		</Screen>
	);
}

function Room({ room }: { room: Usage | null }) {
	if (!room) return <p class="part-note">The room is being measured.</p>;
	const { usedMb, freeMb } = room;
	const used = `${size(usedMb * MB)} used`;
	if (freeMb === null) return <p>{used}. This browser does not say how much is free.</p>;
	const short = storageWarning.value.level === "low";
	return (
		<>
			<Meter share={usedMb / (usedMb + freeMb)} label="Room used" danger={short}>
				{`${used}, ${size(freeMb * MB)} free for it`}
			</Meter>
			{short && (
				<Notice sort="danger" word="Little room">
					What you kept is safe. Send what waits, then make room below, or free space on the phone.
				</Notice>
			)}
		</>
	);
}

interface PromiseProps {
	room: Usage | null;
	unsent: number;
	onAsk: (work: () => Promise<unknown>) => Promise<void>;
}

/** Whether the browser may clear all this, and what makes that less likely. */
function Promised({ room, unsent, onAsk }: PromiseProps) {
	if (!room) return null;
	if (room.persisted === true)
		return (
			<p class="part-tight">
				<State is="out">The browser promises to keep what is here</State>
			</p>
		);
	return (
		<Notice sort={unsent > 0 ? "danger" : "asks"} word="The browser may clear this">
			<p>
				{room.persisted === null
					? "It does not say whether it keeps what is here when the phone runs short of space."
					: "It gives no promise to keep what is here when the phone runs short of space."}{" "}
				{unsent > 0
					? "What has not been sent would be lost then."
					: "Nothing waits to be sent, so nothing would be lost."}
			</p>
			<ul class="steps">
				{!isInstalled() && secure && (
					<li>Add Shedtally to the home screen, and open it from there.</li>
				)}
				{unsent > 0 && (
					<li>
						<a href={PATHS.kept}>Send what waits</a> where there is a signal.
					</li>
				)}
				{unsent > 0 && <li>Or save what is unsent as a file, below.</li>}
			</ul>
			<div class="buttons">
				<button type="button" class="button" onClick={() => void onAsk(askToPersist)}>
					Ask the browser to keep it
				</button>
			</div>
			{unsent > 0 && <SaveUnsent />}
		</Notice>
	);
}

interface Attempt {
	attempt: (work: () => Promise<unknown>) => Promise<void>;
}

function Held({ held, attempt }: { held: Holdings | null } & Attempt) {
	if (!held) return null;
	const { sent, sentBytes, unsent, unsentBytes, thumbnails } = held;
	return (
		<section class="part">
			<h2>What is here</h2>
			<dl class="facts">
				<dt>Here only</dt>
				<dd>
					{photographs(unsent, unsentBytes)}
					<span class="row-under">Never dropped</span>
				</dd>
				<dt>Sent, in full</dt>
				<dd>
					{photographs(sent, sentBytes)}
					<span class="row-under">Dropped first, the oldest before the others</span>
				</dd>
				<dt>Small copies</dt>
				<dd>
					{count(thumbnails, "photograph")}
					<span class="row-under">Never dropped</span>
				</dd>
			</dl>
			{sent > 0 && (
				<div class="buttons">
					<button
						type="button"
						class="button button-wide"
						onClick={() => void attempt(() => trimPhotos(0))}
					>
						Drop {count(sent, "sent photograph")} from this phone
					</button>
				</div>
			)}
			<p class="part-note">
				Dropped photographs stay on the server, and show in full when it is reached.
			</p>
		</section>
	);
}

function photographs(n: number, bytes: number): string {
	return n === 0 ? "none" : `${count(n, "photograph")}, ${size(bytes)}`;
}

function Rules({ attempt }: Attempt) {
	const { sendPhotosOn, keepAll, budgetMb } = settings.value;
	return (
		<section class="part">
			<h2>What may use it</h2>
			<Choice
				name="send-photos-on"
				legend="Send photographs over"
				wrap
				options={[
					{ value: "wifi", label: "Wi-Fi only" },
					{ value: "any", label: "Mobile data too" },
				]}
				value={sendPhotosOn}
				onChange={(on) => void attempt(() => setSendPhotosOn(on ?? "wifi"))}
			/>
			<p class="field-hint">
				Edits go out over any line. Where the phone does not say what its line costs, photographs do
				too.
			</p>
			<Choice
				name="keep-all"
				legend="Photographs in full"
				wrap
				options={[
					{ value: "looked-at", label: "Own only" },
					{ value: "all", label: "All of the boat" },
				]}
				value={keepAll ? "all" : "looked-at"}
				onChange={(which) => void attempt(() => setKeepAll(which === "all"))}
			/>
			<TextField
				label="Room for photographs that the server has too, in MB"
				inputMode="numeric"
				value={String(budgetMb)}
				hint="Over it, the oldest are dropped here. Small copies of all stay."
				onKeep={(text) => {
					const mb = Number(text);
					if (!Number.isInteger(mb) || mb < 0 || mb > MOST_MB)
						return `“${text}” can't be a room. Write whole megabytes from 0 to ${MOST_MB}.`;
					void attempt(() => setBudgetMb(mb));
					return null;
				}}
			/>
		</section>
	);
}
