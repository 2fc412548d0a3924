/** Other phones of the same server: who is in, an invitation, and shutting one out. */
import { call, send } from "./http.ts";

export interface PairedPhone {
	readonly device: string;
	readonly name: string;
	/** ISO 8601. */
	readonly last_seen: string | null;
	readonly revoked: boolean;
}

export interface Invitation {
	readonly code: string;
	/** ISO 8601. */
	readonly expires_at: string;
	/** Opens the pairing page with the code in the fragment, which no server log sees. */
	readonly url: string;
}

/** Every phone that was ever paired. Throws SyncTrouble. */
export function fetchPhones(): Promise<PairedPhone[]> {
	return call<PairedPhone[]>("/api/devices");
}

/** A one-time code for one more phone. Throws SyncTrouble. */
export function invite(): Promise<Invitation> {
	return call<Invitation>("/api/pairing-codes", { method: "POST", json: {} });
}

/** Shut a phone out from its next request on. Throws SyncTrouble. */
export async function shutOut(device: string): Promise<void> {
	await send(`/api/devices/${encodeURIComponent(device)}/revoke`, { method: "POST" });
}
