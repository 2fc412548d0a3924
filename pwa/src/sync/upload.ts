/** Sends a large body and tells how far it has come, which `fetch` can't. */
import type { Patience } from "./stall.ts";

/** An answer of the server, read to its end. */
export interface Answer {
	readonly status: number;
	readonly headers: Headers;
	readonly bytes: ArrayBuffer;
}

/** True where the browser can tell how far a body has come. */
export function canTell(): boolean {
	return typeof XMLHttpRequest !== "undefined";
}

/**
 * Send `request` with its body, telling `onSent` of the bytes that went out.
 * Throws when the line breaks or falls silent.
 */
export function upload(
	path: string,
	request: RequestInit,
	patience: Patience,
	onSent: (bytes: number) => void,
): Promise<Answer> {
	return new Promise((resolve, reject) => {
		const asking = new XMLHttpRequest();
		asking.open(request.method ?? "PUT", path);
		asking.responseType = "arraybuffer";
		for (const [name, value] of Object.entries(request.headers as Record<string, string>)) {
			asking.setRequestHeader(name, value);
		}
		asking.upload.onprogress = ({ loaded }) => {
			patience.moved();
			onSent(loaded);
		};
		asking.onprogress = () => patience.moved();
		asking.onload = () => {
			const headers = headersOf(asking.getAllResponseHeaders());
			resolve({ status: asking.status, headers, bytes: asking.response as ArrayBuffer });
		};
		asking.onerror = () => reject(new TypeError("the line broke"));
		asking.onabort = asking.onerror;
		patience.signal.addEventListener("abort", () => asking.abort(), { once: true });
		asking.send(request.body as XMLHttpRequestBodyInit);
	});
}

function headersOf(lines: string): Headers {
	const headers = new Headers();
	for (const line of lines.split("\r\n")) {
		const colon = line.indexOf(":");
		if (colon > 0) headers.append(line.slice(0, colon), line.slice(colon + 1).trim());
	}
	return headers;
}
