/** The bin: everything that was put away by a mark, and one tap to have it back. */
import { useEffect, useState } from "preact/hooks";
import type { TableName } from "../../domain/contract.ts";
import { type Binned, binned, restore } from "../../storage/bin.ts";
import { boat } from "../../storage/boat.ts";
import { Notice } from "../../ui/Notice.tsx";
import { Screen } from "../../ui/Screen.tsx";
import { count } from "../../ui/words.ts";
import { whenWords } from "../common/fieldWords.ts";
import { faultOf } from "../common/keeping.ts";
import { usePhoto } from "../common/photos.tsx";
import { subjectName } from "../common/RecordCard.tsx";
import { phoneName } from "../common/tellers.ts";
import { PATHS } from "../paths.ts";

/** In the order in which a person misses them. */
const TABLES: readonly (readonly [TableName, one: string, many: string])[] = [
	["item", "item", "items"],
	["photo", "photograph", "photographs"],
	["pin", "pin on a photograph", "pins on photographs"],
	["compartment", "compartment", "compartments"],
	["place", "shelf or crate", "shelves and crates"],
	["container", "waste container", "waste containers"],
	["tag", "tag", "tags"],
	["end", "join", "joins"],
	["note", "note", "notes"],
	["job", "job", "jobs"],
	["before", "order of work", "orders of work"],
	["handover", "handover", "handovers"],
	["correction", "correction", "corrections"],
	["mixing", "mixing in spite of the rules", "mixings in spite of the rules"],
	["work", "entry of hours", "entries of hours"],
	["price", "price", "prices"],
	["spec", "spec of a renewal", "specs of renewals"],
	["purchase", "purchase", "purchases"],
	["leftover", "leftover length", "leftover lengths"],
	["weighing", "weighing", "weighings"],
	["weighed", "share of a weighing", "shares of weighings"],
	["tank", "inside of a tank", "insides of tanks"],
	["dipmark", "line of a dip table", "lines of dip tables"],
	["sounding", "sounding", "soundings"],
	["lift", "lift", "lifts"],
	["eye", "lifting eye", "lifting eyes"],
];

const FIRST_SHOWN = 50;

type Said = { readonly words: string; readonly fault: boolean };

export function Bin() {
	const [counts, setCounts] = useState<ReadonlyMap<TableName, number>>(new Map());
	const [said, setSaid] = useState<Said | null>(null);
	const takeOut = async (one: Binned): Promise<void> => {
		const name = nameOf(one);
		const why = await faultOf(() => restore(one.table, one.key));
		setSaid({
			words: why ?? `${name} is out of the bin. Kept on this phone.`,
			fault: why !== null,
		});
	};
	const isEmpty = counts.size === TABLES.length && [...counts.values()].every((n) => n === 0);
	return (
		<Screen
			title="The bin"
			under="Nothing in it is lost; it stays here until somebody takes it back out."
			backTo={PATHS.boat}
		>
			{said && (
				<Notice sort={said.fault ? "danger" : "done"} role={said.fault ? "alert" : "status"}>
					{said.words}
				</Notice>
			)}
			{isEmpty && (
				<div class="empty part-tight">
					<h2>The bin is empty</h2>
				</div>
			)}
			{TABLES.map(([table, one, many]) => (
				<Section
					key={table}
					table={table}
					called={(n) => count(n, one, many)}
					onCount={(n) => setCounts((before) => new Map(before).set(table, n))}
					onTakeOut={takeOut}
				/>
			))}
		</Screen>
	);
}

interface SectionProps {
	table: TableName;
	called: (n: number) => string;
	onCount: (n: number) => void;
	onTakeOut: (one: Binned) => Promise<void>;
}

function Section({ table, called, onCount, onTakeOut }: SectionProps) {
	const inIt = useBinned(table);
	useEffect(() => {
		if (inIt) onCount(inIt.length);
	}, [inIt]);
	if (!inIt || inIt.length === 0) return null;
	return (
		<section class="part">
			<h2>{called(inIt.length)}</h2>
			<Rows of={inIt} onTakeOut={onTakeOut} />
		</section>
	);
}

/** Read again when a record of this table changes; null until it was read once. */
function useBinned(table: TableName): readonly Binned[] | null {
	const [found, setFound] = useState<readonly Binned[] | null>(null);
	const held = boat.table(table).value;
	useEffect(() => {
		let wanted = true;
		void binned(table).then((rows) => {
			if (wanted) setFound(rows);
		});
		return () => {
			wanted = false;
		};
	}, [held, table]);
	return found;
}

function Rows(props: { of: readonly Binned[]; onTakeOut: (one: Binned) => Promise<void> }) {
	const { of, onTakeOut } = props;
	const [all, setAll] = useState(false);
	return (
		<>
			<ul class="rows">
				{(all ? of : of.slice(0, FIRST_SHOWN)).map((one) => (
					<li class="row" key={one.key}>
						{isPhoto(one) && <Picture of={one} />}
						<span class="row-main">
							<span class="row-title">{nameOf(one)}</span>
							<span class="row-under">
								{whenWords(one.at)}, {phoneName(one.device)}
							</span>
						</span>
						<button
							type="button"
							class="button"
							aria-label={`Take back out: ${nameOf(one)}`}
							onClick={() => void onTakeOut(one)}
						>
							Take back out
						</button>
					</li>
				))}
			</ul>
			{!all && of.length > FIRST_SHOWN && (
				<button type="button" class="button button-quiet" onClick={() => setAll(true)}>
					Show all {of.length}
				</button>
			)}
		</>
	);
}

function Picture({ of }: { of: Binned<"photo"> }) {
	const url = usePhoto(of.record.sha256, "thumbnail");
	if (!url) return <span class="row-picture" aria-hidden="true" />;
	return <img class="row-picture" src={url} alt="" loading="lazy" width="80" height="80" />;
}

function isPhoto(one: Binned): one is Binned<"photo"> {
	return one.table === "photo";
}

/** A photograph is named by what it shows, a tag by its code, a join by what it joined. */
function nameOf(one: Binned): string {
	const { table, key, record } = one;
	const owner = "of" in record ? record.of : "item" in record ? `item/${record.item}` : null;
	if (table === "note" && "text" in record && record.text) return record.text;
	if (!owner) return subjectName(table, key, record);
	const [ownerTable = "", ownerKey = ""] = owner.split("/");
	return `Of ${subjectName(ownerTable, ownerKey)}`;
}
