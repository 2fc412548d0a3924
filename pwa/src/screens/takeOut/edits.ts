/** Taking an item out, and taking that back, as edits. Pure: key and time come in. */
import type { Edit } from "../../domain/change.ts";
import type { Item } from "../../domain/contract.ts";
import type { KeptPhoto } from "../../storage/photos.ts";
import type { Draft } from "./draft.ts";

export interface Taken {
	readonly item: string;
	readonly photo: string;
	readonly code: string | null;
	/** The item as it was before, when it was listed already. */
	readonly before: Item | null;
	readonly at: string;
}

/** The item ashore, its photograph, and the tag on it. */
export function takeOutEdits(
	taken: Taken,
	draft: Pick<Draft, "compartment" | "condition">,
	picture: KeptPhoto,
): Edit[] {
	const { item, photo, code, before, at } = taken;
	const compartment = before?.compartment ?? draft.compartment;
	const set: Partial<Omit<Item, "key">> = {
		whereabouts: "ashore",
		out_at: at,
		...(compartment ? { compartment } : {}),
		...(draft.condition ? { condition: draft.condition } : {}),
	};
	const edits: Edit[] = [
		{ table: "item", key: item, set },
		{ table: "photo", key: photo, set: photoFields(`item/${item}`, picture, at) },
	];
	if (code) edits.push({ table: "tag", key: code, set: { on: `item/${item}`, binned: null } });
	return edits;
}

/** As it was: a new item goes to the bin, a listed one back aboard; its tag is free again. */
export function undoEdits({ item, photo, code, before }: Taken): Edit[] {
	const set: Partial<Omit<Item, "key">> = before
		? {
				whereabouts: before.whereabouts,
				out_at: before.out_at,
				compartment: before.compartment,
				condition: before.condition,
			}
		: { binned: true };
	const edits: Edit[] = [
		{ table: "item", key: item, set },
		{ table: "photo", key: photo, set: { binned: true } },
	];
	if (code) edits.push({ table: "tag", key: code, set: { on: null } });
	return edits;
}

/** Fields of a photograph's record from its kept bytes. */
export function photoFields(of: string, picture: KeptPhoto, at: string) {
	return {
		of,
		sha256: picture.sha256,
		type: picture.type as "image/jpeg" | "image/png" | "image/webp",
		bytes: picture.bytes.byteLength,
		width: picture.width,
		height: picture.height,
		taken_at: at,
	};
}
