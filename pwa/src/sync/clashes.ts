/** Values that two phones wrote without sight of each other, for a person to settle. */
import type { JsonValue } from "../domain/contract.ts";
import { boat } from "../storage/memory.ts";
import { call } from "./http.ts";

export interface ClashSide {
	readonly value: JsonValue;
	readonly stamp: string;
	readonly device: string;
}

export interface Clash {
	readonly table: string;
	readonly key: string;
	readonly field: string;
	readonly kept: ClashSide;
	readonly lost: ClashSide;
	readonly cursor: number;
}

/** Open clashes of the chosen boat, in the order in which they were found. Throws SyncTrouble. */
export async function fetchClashes(): Promise<readonly Clash[]> {
	const of = boat.key.value;
	if (of === null) return [];
	return call<Clash[]>(`/api/boats/${encodeURIComponent(of)}/clashes`);
}
