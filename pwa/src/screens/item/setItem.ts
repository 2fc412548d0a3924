import type { Item } from "../../domain/contract.ts";

/** Keep some fields of the item; a sentence comes back when that failed. */
export type SetItem = (set: Partial<Omit<Item, "key">>) => Promise<string | null>;
