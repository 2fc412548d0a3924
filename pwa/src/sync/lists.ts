/** The lists that the server computes, kept with their age for use with no signal. */
import { type ReadonlySignal, signal } from "@preact/signals";
import type {
	BoxList,
	HandoverList,
	LeftList,
	LiftList,
	MassList,
	OrderList,
	PutBackList,
	Quantities,
	RenewalList,
	Schedule,
	ScrapList,
	Sitting,
	TankList,
	TrimList,
	WasteList,
	WorkAhead,
} from "../domain/contract.ts";
import { type ListRow, readStores, writeStores } from "../storage/db.ts";
import { boat } from "../storage/memory.ts";
import { call } from "./http.ts";

/** A list, and how old it is. */
export interface Aged<L> {
	readonly list: L;
	/** The last change that the server had counted in. */
	readonly cursor: number;
	/** ISO 8601, by the server's clock. */
	readonly madeAt: string;
}

export interface Lists {
	readonly left?: Aged<LeftList>;
	readonly waste?: Aged<WasteList>;
	readonly renewals?: Aged<RenewalList>;
	readonly order?: Aged<OrderList>;
	readonly masses?: Aged<MassList>;
	readonly scrap?: Aged<ScrapList>;
	readonly tanks?: Aged<TankList>;
	readonly work?: Aged<WorkAhead>;
	readonly back?: Aged<PutBackList>;
	readonly lifts?: Aged<LiftList>;
	readonly trim?: Aged<TrimList>;
	readonly boxes?: Aged<BoxList>;
	readonly handovers?: Aged<HandoverList>;
	readonly piping?: Aged<Schedule>;
	readonly wiring?: Aged<Schedule>;
	readonly quantities?: Aged<Quantities>;
	/** Only the last one that was asked for. */
	readonly sitting?: Aged<Sitting>;
}

const NAMES = [
	"left",
	"waste",
	"renewals",
	"order",
	"masses",
	"scrap",
	"tanks",
	"work",
	"back",
	"lifts",
	"trim",
	"quantities",
	"boxes",
	"handovers",
	"piping",
	"wiring",
] as const;

const held = signal<Lists>({});

/** The last lists of the chosen boat that reached this phone. */
export const lists: ReadonlySignal<Lists> = held;

/** Fetch all lists anew. Throws SyncTrouble, StorageFault. */
export async function refreshLists(): Promise<void> {
	const of = boat.key.value;
	if (of === null) return;
	for (const name of NAMES) await fetchList(of, name, "");
	await loadLists();
}

/** Ask for a plan of one sitting and keep it. Throws SyncTrouble, StorageFault. */
export async function fetchSitting(asked: {
	hours: number;
	people: number;
	mix: boolean;
}): Promise<void> {
	const of = boat.key.value;
	if (of === null) return;
	await fetchList(of, "sitting", `?hours=${asked.hours}&people=${asked.people}&mix=${asked.mix}`);
	await loadLists();
}

async function fetchList(of: string, name: string, query: string): Promise<void> {
	const path = `/api/boats/${encodeURIComponent(of)}/lists/${name}${query}`;
	const { list, cursor, made_at } = await call<{
		list: unknown;
		cursor: number;
		made_at: string;
	}>(path);
	const text = JSON.stringify(list);
	await writeStores(["list"], async (tx) => {
		await tx.objectStore("list").put({ boat: of, name, list: text, cursor, made_at });
	});
}

/** Show the kept lists of the chosen boat. */
export async function loadLists(): Promise<void> {
	const of = boat.key.value;
	const rows =
		of === null
			? []
			: await readStores(["list"], (tx) =>
					tx.objectStore("list").getAll(IDBKeyRange.bound([of], [of, []])),
				);
	held.value = Object.fromEntries(rows.map((row) => [row.name, new Kept(row)])) as Lists;
}

/** Show the lists of whichever boat is chosen from now on; once, at start. */
export function followBoat(): void {
	let shown = boat.key.value;
	boat.key.subscribe((key) => {
		if (key !== null && key !== shown) void loadLists().catch(() => {});
		shown = key;
	});
}

/**
 * A list as text until a screen wants it: on a boat of 5,000 items, opening all of them was a third
 * of the time to the first screen.
 */
class Kept implements Aged<unknown> {
	readonly cursor: number;
	readonly madeAt: string;
	private held: unknown;

	constructor({ list, cursor, made_at }: ListRow) {
		this.held = list;
		this.cursor = cursor;
		this.madeAt = made_at;
	}

	get list(): unknown {
		// An earlier version of the app kept the list itself.
		if (typeof this.held === "string") this.held = JSON.parse(this.held);
		return this.held;
	}
}

/** True if the kept lists don't contain everything up to `cursor`. */
export function listsAreOlderThan(cursor: number): boolean {
	return NAMES.some((name) => (held.value[name]?.cursor ?? -1) < cursor);
}
