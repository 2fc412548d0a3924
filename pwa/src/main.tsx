/** Open the phone's database, show the app, register the service worker; nothing else. */
import { render } from "preact";
import { App } from "./App.tsx";
import { openAll, startAll } from "./boot.ts";
import { StorageTrouble } from "./StorageTrouble.tsx";
import { freeBeforeSleep } from "./storage/db.ts";
import { registerServiceWorker } from "./sw/update.ts";
import { tieUnits } from "./ui/tied.ts";

async function main(): Promise<void> {
	const root = document.getElementById("app");
	if (!root) throw new Error("index.html has no #app");
	freeBeforeSleep();
	tieUnits();
	try {
		await openAll();
		render(<App />, root);
		startAll();
	} catch (error) {
		console.error(error);
		render(<StorageTrouble />, root);
	}
	await registerServiceWorker();
}

void main();
