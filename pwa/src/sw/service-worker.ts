/// <reference lib="webworker" />
/**
 * Keeps the whole client on the phone and serves it from there first.
 *
 * - Everything that was built is stored at install; a new version is complete before it is used.
 * - Pages come from the stored shell without asking the network: a network that hangs would hang
 *   the page. `/api`, `/setup` and `/problems` are never touched.
 * - A new version waits until the person asks for it, because open pages still need their files.
 */
export {};

declare const __FILES__: readonly string[];
declare const __VERSION__: string;
declare const self: ServiceWorkerGlobalScope;

const PREFIX = "shell-";
const CACHE = PREFIX + __VERSION__;
/** Fetched under its address, for an answer that came by a redirect can't answer a navigation. */
const SHELL = "/";
const PATHS = new Set(__FILES__.map(pathOf));
const NOT_OURS = /^\/(api|setup|problems)(\/|$)/;

self.addEventListener("install", (event) => event.waitUntil(install()));
self.addEventListener("activate", (event) => event.waitUntil(activate()));
self.addEventListener("message", (event) => {
	if (event.data === "use-new-version") void self.skipWaiting();
});
self.addEventListener("fetch", (event) => {
	const url = new URL(event.request.url);
	if (event.request.method !== "GET" || url.origin !== self.location.origin) return;
	if (NOT_OURS.test(url.pathname)) return;
	event.respondWith(answer(event.request, url.pathname));
});

async function install(): Promise<void> {
	const cache = await caches.open(CACHE);
	await Promise.all(__FILES__.map((file) => store(cache, file)));
}

async function store(cache: Cache, file: string): Promise<void> {
	// Hashed files may come from the browser's cache; the others must be the server's latest.
	const mode = file.startsWith("assets/") ? "default" : "reload";
	const path = pathOf(file);
	const answer = await fetch(new Request(path, { cache: mode }));
	// A redirected answer can't open a page later, and an error must never be kept in its place.
	if (!answer.ok || answer.redirected) throw new Error(`${path} could not be stored`);
	await cache.put(path, answer);
}

async function activate(): Promise<void> {
	for (const name of await caches.keys()) {
		if (name.startsWith(PREFIX) && name !== CACHE) await caches.delete(name);
	}
	// The page of the very first visit is served by nobody yet: take it over, so that it works
	// offline without being opened a second time.
	await self.clients.claim();
}

async function answer(request: Request, path: string): Promise<Response> {
	const cache = await caches.open(CACHE);
	const wanted = request.mode === "navigate" && !PATHS.has(path) ? SHELL : path;
	const kept = await cache.match(wanted, { ignoreSearch: true, ignoreVary: true });
	return kept ?? fetch(request);
}

/** The page itself is asked for by its folder: servers may redirect from `index.html` to it. */
function pathOf(file: string): string {
	return file === "index.html" ? SHELL : `/${file}`;
}
