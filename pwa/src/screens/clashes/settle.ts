/** Settling: the chosen value, written once more by somebody who has seen both. */
import type { Edit } from "../../domain/change.ts";
import type { JsonValue } from "../../domain/contract.ts";
import { isTable } from "../../domain/read.ts";
import { usable } from "../../domain/shape.ts";
import type { ClashSide } from "../../sync/clashes.ts";
import type { Dispute } from "./disputes.ts";

/** `words` say what holds now; `tagless` are targets that lost their tag by it. */
export type Settle = (side: ClashSide, words: string, tagless?: readonly string[]) => Promise<void>;

/** Null where a newer version wrote what this one can't write. */
export function editOf({ table, key, field }: Dispute, value: JsonValue): Edit | null {
	if (!isTable(table) || !usable(table, field, value)) return null;
	return { table, key, set: { [field]: value } } as Edit;
}
