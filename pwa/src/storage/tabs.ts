/** Tells the other open pages of the app what changed in the database they share. */

export type TabMessage =
	| { readonly kind: "records"; readonly boat: string; readonly rows: readonly RowName[] }
	| { readonly kind: "boat"; readonly boat: string }
	| { readonly kind: "session" }
	| { readonly kind: "paired" }
	| { readonly kind: "counts" };

export type RowName = readonly [table: string, key: string];

const channel = typeof BroadcastChannel === "undefined" ? null : new BroadcastChannel("shedtally");

export function tellTabs(message: TabMessage): void {
	channel?.postMessage(message);
}

/** Call `heard` for each message of another page. */
export function hearTabs(heard: (message: TabMessage) => void): void {
	channel?.addEventListener("message", (event: MessageEvent<TabMessage>) => heard(event.data));
}
