/** Any record as a tag: an item as itself, what belongs to an item under it, the rest by name. */
import { useEffect, useState } from "preact/hooks";
import type { RecordOf, TableName } from "../../domain/contract.ts";
import { codesOn, itemName, kindOf } from "../../domain/names.ts";
import { isTable } from "../../domain/read.ts";
import { shown } from "../../domain/tag.ts";
import { pathOf } from "../../domain/tree.ts";
import { binned } from "../../storage/bin.ts";
import { boat } from "../../storage/boat.ts";
import { rules } from "../../storage/rules.ts";
import { Tag } from "../../ui/Tag.tsx";
import { sentence } from "../../ui/words.ts";
import { ItemTag } from "./ItemTag.tsx";

export const TABLE_WORDS: Readonly<Record<TableName, string>> = {
	item: "Item",
	compartment: "Compartment",
	place: "Shelf or crate",
	container: "Waste container",
	photo: "Photograph",
	pin: "Pin on a photograph",
	tag: "Tag",
	end: "Join",
	note: "Note",
	job: "Job",
	before: "Order of work",
	handover: "Handover",
	correction: "Correction of a handover",
	mixing: "Mixing in spite of the rules",
	work: "Hours worked",
	price: "Price",
	spec: "Spec of a renewal",
	purchase: "Purchase of a line",
	leftover: "Leftover length",
	weighing: "Weighing",
	weighed: "Weighed with others",
	tank: "Inside of a tank",
	dipmark: "Line of a dip table",
	sounding: "Sounding",
	lift: "Lift",
	eye: "Lifting eye",
	device: "Phone",
	boat: "Boat",
};

export function RecordCard({ table, recordKey }: { table: string; recordKey: string }) {
	const record = useRecord(table, recordKey);
	const [parentTable, parentKey] = parentOf(table, record);
	const parent = useRecord(parentTable, parentKey);
	if (record && table === "item") return <ItemTag item={record as RecordOf<"item">} />;
	if (parent && parentTable === "item")
		return (
			<ItemTag item={parent as RecordOf<"item">}>
				<p class="small pencil">{wordOf(table)}</p>
			</ItemTag>
		);
	const [code] = codesOn(boat.table("tag").value, `${table}/${recordKey}`);
	const own =
		table === "tag" ? shown(recordKey) : code ? shown(code) : subjectName(table, recordKey, record);
	return (
		<Tag
			code={own}
			where={wordOf(table)}
			title={code ? subjectName(table, recordKey, record) : undefined}
		/>
	);
}

/** `Raw water pump`, `Rack A, top`, `Photograph`: what a sentence calls the record. */
export function subjectName(
	table: string,
	key: string,
	record: RecordOf<TableName> | null = held(table, key),
): string {
	if (table === "tag") return `Tag ${shown(key)}`;
	if (!record) return sentence(`${wordOf(table).toLowerCase()} that is not here`);
	if (table === "item") return itemSubject(record as RecordOf<"item">);
	if (table === "compartment" || table === "place")
		return pathOf(boat.table(table).value, key).join(", ") || nameIn(record) || wordOf(table);
	return nameIn(record) || wordOf(table);
}

/** An item without a name is called by its tag. */
function itemSubject(item: RecordOf<"item">): string {
	if (item.name !== null || kindOf(item, rules.value)) return sentence(itemName(item, rules.value));
	const [code] = codesOn(boat.table("tag").value, `item/${item.key}`);
	return code ? `Item ${shown(code)}` : "The unnamed item";
}

/** The record, also from the bin; null until it was found, or if it is not on this phone. */
export function useRecord(table: string, key: string): RecordOf<TableName> | null {
	const shownNow = held(table, key);
	const [inBin, setInBin] = useState<RecordOf<TableName> | null>(null);
	useEffect(() => {
		let wanted = true;
		if (!shownNow && isTable(table) && key)
			void binned(table).then((found) => {
				if (wanted) setInBin(found.find((one) => one.key === key)?.record ?? null);
			});
		return () => {
			wanted = false;
		};
	}, [shownNow, table, key]);
	return shownNow ?? inBin;
}

function held(table: string, key: string): RecordOf<TableName> | null {
	return isTable(table) ? (boat.table(table).value.get(key) ?? null) : null;
}

function wordOf(table: string): string {
	return isTable(table) ? TABLE_WORDS[table] : table;
}

function nameIn(record: RecordOf<TableName>): string {
	if ("line" in record && typeof record.line === "string") return record.line;
	return "name" in record && typeof record.name === "string" ? record.name : "";
}

/** What a photograph, note, tag or end belongs to. */
function parentOf(table: string, record: RecordOf<TableName> | null): [string, string] {
	if (!record) return ["", ""];
	const target = "of" in record ? record.of : "on" in record && table === "tag" ? record.on : null;
	if (table === "end" && "item" in record) return ["item", record.item ?? ""];
	const [parent = "", key = ""] = (target ?? "").split("/");
	return [parent, key];
}
