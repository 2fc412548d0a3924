/** Registers the service worker and says when a new version waits to be used. */
import { type ReadonlySignal, signal } from "@preact/signals";

/** Plain http has no service worker, no camera and no digest: the app says so and goes on. */
export const secure: boolean = globalThis.isSecureContext === true;

const ready = signal(false);
const offline = signal(false);
let waiting: ServiceWorker | null = null;

/** True when a new version is stored on the phone and waits for a tap. */
export const updateReady: ReadonlySignal<boolean> = ready;

/** True when the whole client is stored and opens without the network. */
export const offlineReady: ReadonlySignal<boolean> = offline;

/** Change to the version that waits; every open page of the app then loads again. */
export function applyUpdate(): void {
	waiting?.postMessage("use-new-version");
}

/**
 * Fetch the newest version now. Where a worker looks after that, it is offered once it is stored;
 * elsewhere the page loads again. Nothing that was kept is touched.
 */
export async function lookForUpdate(): Promise<void> {
	const registration = await navigator.serviceWorker?.getRegistration().catch(() => undefined);
	if (!registration) {
		location.reload();
		return;
	}
	await registration.update().catch(() => {});
}

/** Register the worker. Failing is no fault of the person's: the app works, but only online. */
export async function registerServiceWorker(): Promise<void> {
	const container = navigator.serviceWorker;
	if (!secure || !container || !import.meta.env.PROD) return;
	reloadOnNewVersion(container);
	try {
		const registration = await container.register("/sw.js", { updateViaCache: "none" });
		watch(registration);
		void container.ready.then(() => {
			offline.value = true;
		});
		document.addEventListener("visibilitychange", () => {
			if (document.visibilityState === "visible") void registration.update().catch(() => {});
		});
	} catch (error) {
		console.warn("The service worker could not be registered", error);
	}
}

function reloadOnNewVersion(container: ServiceWorkerContainer): void {
	// The first worker takes over the first page; that is no new version.
	let hadOne = container.controller !== null;
	container.addEventListener("controllerchange", () => {
		if (hadOne) location.reload();
		hadOne = true;
	});
}

function watch(registration: ServiceWorkerRegistration): void {
	const offer = (worker: ServiceWorker | null): void => {
		if (!worker || !registration.active) return;
		waiting = worker;
		ready.value = true;
	};
	offer(registration.waiting);
	registration.addEventListener("updatefound", () => {
		const worker = registration.installing;
		worker?.addEventListener("statechange", () => {
			if (worker.state === "installed") offer(registration.waiting);
		});
	});
}
