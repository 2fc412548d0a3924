/** Lines under the top: a warning, not safe offline, a new version, the home screen. One at a time. */
import { signal } from "@preact/signals";
import { isInstalled } from "../../storage/quota.ts";
import { applyUpdate, lookForUpdate, secure, updateReady } from "../../sw/update.ts";
import { syncState } from "../../sync/state.ts";
import { PATHS } from "../paths.ts";
import { warning } from "./Warnings.tsx";

const DISMISSED_AS = "shedtally.install-hint";
const dismissed = signal(wasDismissed());

export function Banners({ path }: { path: string }) {
	const urgent = warning(path);
	if (urgent) return <>{urgent}</>;
	if (!secure)
		return (
			<aside class="banner banner-danger" aria-label="Not safe offline">
				<span>
					<span class="strong">Not safe offline.</span> Over plain http this page opens only with a
					connection.
				</span>
				<a class="button" href="/setup">
					Set up
				</a>
			</aside>
		);
	if (updateReady.value)
		return (
			<aside class="banner" aria-label="New version">
				<span>A new version is on this phone. What waits to be sent stays.</span>
				<button type="button" class="button" onClick={applyUpdate}>
					Use it now
				</button>
			</aside>
		);
	if (syncState.value.problem?.kind === "reload") return <TooOld />;
	// The hint to install would be in the way of work.
	if (path === PATHS.boat && !dismissed.value && !isInstalled()) return <InstallHint />;
	return <div class="banner-none" />;
}

/** The server has gone on to a newer version, and this app must follow before it sends again. */
function TooOld() {
	return (
		<aside class="banner" aria-label="The app is too old">
			<span role="alert">
				<span class="strong">The server has a newer version.</span> What you kept stays on this
				phone and is sent with the new version.
			</span>
			<button type="button" class="button" onClick={() => void lookForUpdate()}>
				Fetch it
			</button>
		</aside>
	);
}

function InstallHint() {
	return (
		<aside class="banner" aria-label="Home screen">
			<span>Add Shedtally to the home screen; the phone then looks after its storage.</span>
			<button type="button" class="button button-quiet" onClick={dismiss}>
				Not now
			</button>
		</aside>
	);
}

function dismiss(): void {
	dismissed.value = true;
	try {
		localStorage.setItem(DISMISSED_AS, "yes");
	} catch {
		// Then it shows again next time.
	}
}

function wasDismissed(): boolean {
	try {
		return globalThis.localStorage?.getItem(DISMISSED_AS) === "yes";
	} catch {
		return false;
	}
}
