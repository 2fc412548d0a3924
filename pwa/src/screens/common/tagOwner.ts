/** What a scanned or typed code is on, as far as this phone knows. */
import type { RecordOf, TableName } from "../../domain/contract.ts";
import { itemName } from "../../domain/names.ts";
import { boat } from "../../storage/boat.ts";
import { rules } from "../../storage/rules.ts";
import { PATHS } from "../paths.ts";

export type TagOwner =
	| { readonly sort: "free" }
	| {
			readonly sort: "item" | "place" | "container";
			readonly key: string;
			readonly name: string;
			readonly path: string;
	  };

/** `free` also when its record has not arrived on this phone yet. */
export function ownerOf(code: string): TagOwner {
	const [table, key] = (boat.table("tag").value.get(code)?.on ?? "").split("/");
	if (!key) return { sort: "free" };
	const item = table === "item" ? boat.table("item").value.get(key) : undefined;
	if (item) return { sort: "item", key, name: itemName(item, rules.value), path: PATHS.item(key) };
	const place = table === "place" ? named("place", key) : undefined;
	if (place) return { sort: "place", key, name: place, path: PATHS.place(key) };
	const container = table === "container" ? named("container", key) : undefined;
	if (container) return { sort: "container", key, name: container, path: PATHS.box(key) };
	return { sort: "free" };
}

function named(table: "place" | "container", key: string): string | undefined {
	const record: RecordOf<TableName> | undefined = boat.table(table).value.get(key);
	if (!record) return undefined;
	return ("name" in record && record.name) || "unnamed";
}
