/** What must be said on every screen, loudest first: work that is lost, shut in, or in danger. */
import type { ComponentChildren } from "preact";
import {
	acknowledgeLoss,
	type LostStorage,
	lostStorage,
	storageWarning,
} from "../../storage/danger.ts";
import { session } from "../../sync/session.ts";
import { syncNow, syncState } from "../../sync/state.ts";
import { ago, count, day } from "../../ui/words.ts";
import { waitingWords } from "../common/standing.ts";
import { PATHS } from "../paths.ts";

/** No browser clears a page that was used this recently. */
const UNSENT_FOR_MS = 10 * 60_000;
const SHORT_MB = 200;

/** The one warning that comes first; null when there is none. `path` keeps a link to itself away. */
export function warning(path: string): ComponentChildren | null {
	const { paired, server } = session.value;
	const state = syncState.value;
	const waiting = waitingWords(state);
	const { level, unsentOverADay } = storageWarning.value;
	if (lostStorage.value) return <Lost />;
	if (server !== null && !paired && path !== PATHS.pair)
		return <ShutOut waiting={waiting} path={path} />;
	if (unsentOverADay && waiting) return <TooLong waiting={waiting} path={path} />;
	if (level === "evictable-with-unsent" && waiting && mayGoSoon() && path !== PATHS.storage)
		return <Evictable waiting={waiting} />;
	if (level === "low" && path !== PATHS.storage) return <Low />;
	return null;
}

interface LoudProps {
	name: string;
	/** The next thing to do, as a button or a link. */
	todo: ComponentChildren;
	children: ComponentChildren;
}

/** What is on its way to the server anyway needs no warning yet, unless room is short. */
function mayGoSoon(): boolean {
	const { oldestUnsentAt } = syncState.value;
	const { freeMb } = storageWarning.value;
	if (freeMb !== null && freeMb < SHORT_MB) return true;
	return oldestUnsentAt !== null && Date.now() - oldestUnsentAt > UNSENT_FOR_MS;
}

function Loud({ name, todo, children }: LoudProps) {
	return (
		<aside class="banner banner-danger" aria-label={name}>
			<span role="alert">{children}</span>
			{todo}
		</aside>
	);
}

/** What was here is gone; the one thing to say even before this phone has a boat again. */
export function Lost() {
	const lost = lostStorage.value;
	if (!lost) return null;
	return (
		<Loud
			name="The browser cleared this phone's storage"
			todo={
				<button type="button" class="button" onClick={() => acknowledgeLoss()}>
					I have read it
				</button>
			}
		>
			<span class="strong">The browser cleared this phone's storage.</span> {lostWords(lost)}
		</Loud>
	);
}

function lostWords(lost: LostStorage): string {
	const gone = waitingWords(lost);
	const noted = day(new Date(lost.notedAt));
	return gone
		? `${gone}, unsent on ${noted}, can't be found here any more. What had been sent is safe on the server and comes back.`
		: "Nothing waited to be sent. Everything is safe on the server and comes back.";
}

/** Also after another phone shut this one out; its work stays and can be saved. */
function ShutOut({ waiting, path }: { waiting: string; path: string }) {
	const todo =
		waiting && path !== PATHS.kept ? (
			<a class="button" href={PATHS.kept}>
				What to do
			</a>
		) : (
			<a class="button" href={PATHS.pair}>
				Pair again
			</a>
		);
	return (
		<Loud name="The server no longer knows this phone" todo={todo}>
			<span class="strong">The server no longer knows this phone.</span>{" "}
			{waiting ? "What was not sent is kept here only." : "What you keep stays here."}
		</Loud>
	);
}

function TooLong({ waiting, path }: { waiting: string; path: string }) {
	const { oldestUnsentAt, running } = syncState.value;
	const since =
		oldestUnsentAt === null ? "" : `, the oldest kept ${ago(oldestUnsentAt, Date.now())}`;
	const todo =
		path === PATHS.kept ? (
			<button type="button" class="button" onClick={() => void syncNow()}>
				{running ? "Sending" : "Send now"}
			</button>
		) : (
			<a class="button" href={PATHS.kept}>
				Send or save
			</a>
		);
	return (
		<Loud name="Unsent for more than a day" todo={todo}>
			<span class="strong">{waiting} on this phone only</span>
			{since}. Go where there is a signal.
		</Loud>
	);
}

function Evictable({ waiting }: { waiting: string }) {
	return (
		<Loud
			name="Unsent work is in danger"
			todo={
				<a class="button" href={PATHS.storage}>
					What to do
				</a>
			}
		>
			<span class="strong">{waiting} here only,</span> and the browser may clear this phone's
			storage.
		</Loud>
	);
}

function Low() {
	const { freeMb, usedMb } = storageWarning.value;
	return (
		<aside class="banner" aria-label="Little room">
			<span>
				<span class="strong">Little room left: </span>
				{freeMb === null
					? `${count(Math.round(usedMb), "MB", "MB")} used.`
					: `${count(Math.round(freeMb), "MB", "MB")} free.`}
			</span>
			<a class="button" href={PATHS.storage}>
				Make room
			</a>
		</aside>
	);
}
