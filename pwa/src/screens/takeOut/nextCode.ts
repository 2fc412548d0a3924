/** The code that the next item gets: the one scanned, else the first of this phone's own. */
import { computed, type ReadonlySignal } from "@preact/signals";
import { codesOn } from "../../domain/names.ts";
import { boat } from "../../storage/boat.ts";
import { reserve } from "../../sync/tags.ts";
import { ownerOf } from "../common/tagOwner.ts";
import { draft } from "./draft.ts";

export interface NextCode {
	readonly code: string;
	readonly how: "scanned" | "next";
}

/** Null when nothing was scanned and this phone has no code left, or the item has a tag already. */
export const nextCode: ReadonlySignal<NextCode | null> = computed(() => {
	const { code, item } = draft.value;
	if (code) return { code, how: "scanned" };
	if (item && codesOn(boat.table("tag").value, `item/${item}`).length > 0) return null;
	const own = reserve.value.find((candidate) => ownerOf(candidate).sort === "free");
	return own ? { code: own, how: "next" } : null;
});
