/** Lines under the top: not safe offline, a new version, the home screen. At most one at a time. */
import { signal } from "@preact/signals";
import { applyUpdate, secure, updateReady } from "../../sw/update.ts";

const DISMISSED_AS = "shedtally.install-hint";
const dismissed = signal(wasDismissed());

/** `quiet` on screens where the hint to install would be in the way of work. */
export function Banners({ quiet }: { quiet: boolean }) {
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
				<span>A new version is on this phone.</span>
				<button type="button" class="button" onClick={applyUpdate}>
					Use it now
				</button>
			</aside>
		);
	if (!quiet && !dismissed.value && !isInstalled()) return <InstallHint />;
	return <div class="banner-none" />;
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

function isInstalled(): boolean {
	const apple = (navigator as Navigator & { standalone?: boolean }).standalone === true;
	return apple || matchMedia("(display-mode: standalone)").matches;
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
