/** Whether the app was opened from the home screen. */

export function isInstalled(): boolean {
	const apple = (navigator as Navigator & { standalone?: boolean }).standalone === true;
	return apple || matchMedia("(display-mode: standalone)").matches;
}

/** A page over plain http can't be added so that it opens offline. */
export function canInstall(): boolean {
	return globalThis.isSecureContext === true;
}
