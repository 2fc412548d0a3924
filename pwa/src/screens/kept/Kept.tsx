/** What is on this phone only: unsent work, refusals, room, and sending it now. */
import { useEffect, useState } from "preact/hooks";
import { type Usage, usage } from "../../storage/quota.ts";
import { openClashes } from "../../sync/clashes.ts";
import { session } from "../../sync/session.ts";
import { type SyncState, syncNow, syncState } from "../../sync/state.ts";
import { Notice } from "../../ui/Notice.tsx";
import { Screen } from "../../ui/Screen.tsx";
import { State } from "../../ui/State.tsx";
import { ago, count } from "../../ui/words.ts";
import { disputesOf } from "../clashes/disputes.ts";
import { SaveUnsent } from "../common/SaveUnsent.tsx";
import { standingWords } from "../common/standing.ts";
import { PATHS } from "../paths.ts";
import { clockWords } from "./clock.ts";
import { Refused } from "./Refused.tsx";
import { SendingPhotos } from "./SendingPhotos.tsx";
import { WhereItIs } from "./WhereItIs.tsx";

const MB = 1_000_000;

export function Kept() {
	const state = syncState.value;
	const standing = standingWords();
	const { paired, deviceName, server } = session.value;
	const nothing = state.unsentChanges + state.unsentPhotos === 0;
	return (
		<Screen title="What is on this phone only" backTo={PATHS.boat}>
			<p>
				<State is={standing.safe === "no" ? "danger" : standing.safe === "yes" ? "out" : "plain"}>
					{standing.words}
				</State>
			</p>
			<dl class="totals part-tight">
				<Total
					name={state.unsentPhotos === 1 ? "photo" : "photos"}
					value={String(state.unsentPhotos)}
				/>
				<Total
					name={state.unsentChanges === 1 ? "edit" : "edits"}
					value={String(state.unsentChanges)}
				/>
				<Total name="MB of photos" value={megabytes(state.unsentBytes)} />
			</dl>
			<p class="part-note">
				{nothing
					? "Everything kept on this phone has reached the server."
					: "Kept on this phone until the server has confirmed each one. Closing the app loses nothing; losing the phone would."}
			</p>
			{state.problem && (
				<Notice sort="asks" role="status">
					<p>
						<span class="notice-word">{state.problem.happened}</span> {state.problem.safe}{" "}
						{state.problem.todo}
					</p>
				</Notice>
			)}
			<SendingPhotos state={state} />
			<Sending paired={paired} again={server !== null} running={state.running} />
			{(!nothing || (!paired && server !== null)) && <SaveUnsent />}
			<Refused refused={state.rejected} />
			<ToSettle />
			<WhereItIs state={state} />
			<Facts state={state} deviceName={deviceName} />
		</Screen>
	);
}

/** Rounded up, so that what waits is never shown as nothing. */
function megabytes(bytes: number): string {
	return bytes === 0 ? "0" : (Math.ceil((bytes / MB) * 10) / 10).toFixed(1);
}

function ToSettle() {
	const clashes = disputesOf(openClashes.value).length;
	if (clashes === 0) return null;
	return (
		<section class="part">
			<h2>{count(clashes, "clash", "clashes")} to settle</h2>
			<p class="part-note">
				Two phones wrote different things before they had seen each other. Both are kept.
			</p>
			<div class="buttons">
				<a class="button button-wide" href={PATHS.clashes}>
					Say which one holds
				</a>
			</div>
		</section>
	);
}

function Total({ name, value }: { name: string; value: string }) {
	return (
		<div>
			<dt>{name}</dt>
			<dd>{value}</dd>
		</div>
	);
}

function Sending(props: { paired: boolean; again: boolean; running: boolean }) {
	const { paired, again, running } = props;
	return (
		<div class="buttons">
			{paired ? (
				<button
					type="button"
					class="button button-main button-wide"
					aria-disabled={running}
					onClick={() => {
						if (!running) void syncNow();
					}}
				>
					{running ? "Sending and receiving" : "Send and receive now"}
				</button>
			) : (
				<a class="button button-main button-wide" href={PATHS.pair}>
					{again ? "Pair this phone again" : "Pair this phone with the server"}
				</a>
			)}
		</div>
	);
}

function Facts({ state, deviceName }: { state: SyncState; deviceName: string }) {
	const [room, setRoom] = useState<Usage | null>(null);
	useEffect(() => {
		void usage().then(setRoom);
	}, [state.unsentBytes]);
	const now = Date.now();
	const wrong = clockWords(state.clockOffsetMs);
	return (
		<section class="part">
			<h2>This phone</h2>
			<dl class="facts">
				<dt>Called</dt>
				<dd>{deviceName || "Not named; pairing asks for a name"}</dd>
				<dt>Last complete</dt>
				<dd>{state.lastSyncedAt === null ? "never yet" : ago(state.lastSyncedAt, now)}</dd>
				{state.oldestUnsentAt !== null && (
					<>
						<dt>Oldest unsent</dt>
						<dd>{ago(state.oldestUnsentAt, now)}</dd>
					</>
				)}
				<dt>Storage</dt>
				<dd>{room ? roomWords(room) : "being measured"}</dd>
				<dt>Clock</dt>
				<dd>
					{wrong ? (
						<State is="waits">{`${wrong}; edits get the server's time`}</State>
					) : (
						"agrees with the server"
					)}
				</dd>
			</dl>
			<div class="buttons">
				<a class="button button-wide" href={PATHS.storage}>
					Storage of this phone
				</a>
			</div>
		</section>
	);
}

function roomWords({ usedMb, freeMb }: Usage): string {
	const used = `${usedMb < 10 ? usedMb.toFixed(1) : Math.round(usedMb)} MB used`;
	if (freeMb === null) return used;
	const free = freeMb > 1_000 ? `${(freeMb / 1_000).toFixed(1)} GB` : `${Math.round(freeMb)} MB`;
	return `${used}, ${free} free for it`;
}
