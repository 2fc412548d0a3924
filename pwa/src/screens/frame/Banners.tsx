/** Lines under the top: not safe offline, a new version, the home screen. At most one at a time. */
import { signal } from "@preact/signals";
import { applyUpdate, secure, updateReady } from "../../sw/update.ts";
import { Icon } from "../../ui/Icon.tsx";

const DISMISSED_AS = "shedtally.install-hint";
const dismissed = signal(wasDismissed());

export function Banners() {
	if (!secure)
		return (
			<div class="banner banner-danger">
				<span>
					<span class="strong">Not safe offline.</span> Over plain http this page opens only with a
					connection.
				</span>
				<a class="button" href="/setup">
					Set up
				</a>
			</div>
		);
	if (updateReady.value)
		return (
			<div class="banner">
				<span>A new version is on this phone.</span>
				<button type="button" class="button" onClick={applyUpdate}>
					Use it now
				</button>
			</div>
		);
	if (!dismissed.value && !isInstalled()) return <InstallHint />;
	return <div />;
}

function InstallHint() {
	return (
		<div class="banner">
			<span>Add Shedtally to the home screen, so that the phone keeps its storage for it.</span>
			<button type="button" class="button button-quiet" onClick={dismiss}>
				<Icon name="close" /> Not now
			</button>
		</div>
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
