/// <reference lib="webworker" />
/** Decodes the frames that the page sends, one at a time. */
import { prepare, readCodes } from "./decode.ts";

declare const self: DedicatedWorkerGlobalScope;

export type ScanRequest =
	| { readonly do: "warm up" }
	| { readonly do: "read"; readonly frame: number; readonly image: ImageData };

export type ScanAnswer =
	| { readonly did: "warm up"; readonly ready: boolean }
	| { readonly did: "read"; readonly texts: readonly string[] };

self.addEventListener("message", (event: MessageEvent<ScanRequest>) => void answer(event.data));

async function answer(request: ScanRequest): Promise<void> {
	if (request.do === "read") {
		tell({ did: "read", texts: await readCodes(request.image, request.frame) });
		return;
	}
	try {
		await prepare();
		// The first decode is the slow one: do it on an empty picture, before somebody waits.
		await readCodes(new ImageData(64, 64), 0);
		tell({ did: "warm up", ready: true });
	} catch {
		tell({ did: "warm up", ready: false });
	}
}

function tell(what: ScanAnswer): void {
	self.postMessage(what);
}
