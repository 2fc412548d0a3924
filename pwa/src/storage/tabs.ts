/** Tells the other open pages of the app what changed in the database they share. */

export type TabMessage =
	| RecordsMessage
	| { readonly kind: "boat"; readonly boat: string }
	| { readonly kind: "session" }
	| { readonly kind: "paired" }
	| { readonly kind: "counts" };

export interface RecordsMessage {
	readonly kind: "records";
	readonly boat: string;
	readonly rows: readonly RowName[];
	/** Between which cursors they came; null for what was kept here. */
	readonly pulled: readonly [from: number, to: number] | null;
}

export type RowName = readonly [table: string, key: string];

const channel = typeof BroadcastChannel === "undefined" ? null : new BroadcastChannel("shedtally");

export function tellTabs(message: TabMessage): void {
	channel?.postMessage(message);
}

/** Call `heard` for each message of another page. */
export function hearTabs(heard: (message: TabMessage) => void): void {
	channel?.addEventListener("message", (event: MessageEvent<TabMessage>) => heard(event.data));
}
