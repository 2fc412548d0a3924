/** The log of a record and of what belongs to it: who changed what and when, each with its undo. */
import { useEffect, useState } from "preact/hooks";
import type { Change } from "../../domain/change.ts";
import type { TableName } from "../../domain/contract.ts";
import { boat, history } from "../../storage/boat.ts";
import { undoChange, undoOf } from "../../storage/history.ts";
import { historyOf } from "../../sync/history.ts";
import { Notice } from "../../ui/Notice.tsx";
import { sentence, stopped } from "../../ui/words.ts";
import { fieldName, whenWords } from "./fieldWords.ts";
import { faultOf } from "./keeping.ts";
import { byMoment, type Moment, type Told } from "./tell.ts";
import { NAMES, phoneName } from "./tellers.ts";
import "./history.css";

type RecordName = readonly [table: TableName, key: string];

const FIRST_SHOWN = 6;

/** `of`: the record itself first, then what belongs to it. */
export function History({ of }: { of: readonly RecordName[] }) {
	const [all, setAll] = useState(false);
	const { changes, complete } = useChanges(of);
	const moments = byMoment(changes, NAMES);
	const [fault, setFault] = useState<string | null>(null);
	const [said, setSaid] = useState<string | null>(null);
	if (moments.length === 0) return null;
	const undo = async (change: Change): Promise<void> => {
		let left: readonly string[] = [];
		const why = await faultOf(async () => {
			const { overwritten, unknown } = await undoChange(change);
			left = [...overwritten, ...unknown];
		});
		setFault(why);
		setSaid(why ? null : undoneWords(change.table, left));
	};
	return (
		<section class="part">
			<h2>History</h2>
			{fault && (
				<Notice sort="danger" role="alert">
					{fault}
				</Notice>
			)}
			{said && (
				<Notice sort="done" role="status">
					{said}
				</Notice>
			)}
			<ol class="rows history">
				{(all ? moments : moments.slice(0, FIRST_SHOWN)).map((moment) => (
					<Entry key={moment.id} moment={moment} onUndo={undo} />
				))}
			</ol>
			{!all && moments.length > FIRST_SHOWN && (
				<button type="button" class="button button-quiet" onClick={() => setAll(true)}>
					Show all {moments.length}
				</button>
			)}
			{complete === false && (
				<p class="part-note">
					What this phone holds. Older history is on the server, and shows when it is reached.
				</p>
			)}
		</section>
	);
}

/** `left`: fields that were written again since, which undoing leaves alone. */
function undoneWords(table: string, left: readonly string[]): string {
	const kept = left.map((field) => sentence(fieldName(table, field))).join(", ");
	return kept === ""
		? "Undone, as the newest entry. It can be undone too."
		: `Undone, as the newest entry. What was written since stays: ${kept}.`;
}

function Entry({ moment, onUndo }: { moment: Moment; onUndo: (change: Change) => Promise<void> }) {
	return (
		<li>
			<p class="small pencil">
				{whenWords(moment.ms)}, {phoneName(moment.device)}
			</p>
			{moment.told.map((told) => (
				<Line key={told.change.id} told={told} onUndo={onUndo} />
			))}
		</li>
	);
}

function Line({ told, onUndo }: { told: Told; onUndo: (change: Change) => Promise<void> }) {
	const { change, said } = told;
	const stands = useStands(change);
	const words = said.map(sentence).join(". ");
	return (
		<div class="history-line">
			<p>{said.map((one) => stopped(sentence(one))).join(" ")}</p>
			{change.restates && (
				<p class="small pencil">
					Restated from another phone after a backup was brought back; the first entry is lost.
				</p>
			)}
			{stands && (
				<button
					type="button"
					class="button button-quiet"
					aria-label={`Undo this: ${words}`}
					onClick={() => void onUndo(change)}
				>
					Undo this
				</button>
			)}
		</div>
	);
}

/**
 * Whether anything of the change still stands, so that undoing it would do something. What was
 * handed over was frozen by its server as it left: only a correction can say otherwise.
 */
function useStands(change: Change): boolean {
	const [stands, setStands] = useState(false);
	const held = boat.table(change.table as TableName)?.value;
	const frozen =
		change.table === "handover" && Boolean(boat.table("handover").value.get(change.key)?.sealed_at);
	useEffect(() => {
		let wanted = true;
		void undoOf(change).then(({ edits }) => {
			if (wanted) setStands(edits.length > 0);
		});
		return () => {
			wanted = false;
		};
	}, [change, held]);
	return stands && !frozen;
}

interface Found {
	readonly changes: readonly Change[];
	/** False where the server could not be asked for more; null until that is known. */
	readonly complete: boolean | null;
}

/** What the phone holds at once; what the server knows besides, when it answers. */
function useChanges(of: readonly RecordName[]): Found {
	const [found, setFound] = useState<Found>({ changes: [], complete: null });
	const names = of.map((name) => name.join("/")).join();
	// Any edit of a record makes a new map of its table.
	const maps = [...new Set(of.map(([table]) => table))].map((table) => boat.table(table).value);
	useEffect(() => {
		let wanted = true;
		const show = (next: Found): void => {
			if (wanted) setFound(next);
		};
		void (async () => {
			const here = await Promise.all(of.map(([table, key]) => history(table, key)));
			show({ changes: here.flat(), complete: null });
			const whole = await Promise.all(of.map(([table, key]) => historyOf(table, key)));
			show({
				changes: whole.flatMap(({ entries }) => entries),
				complete: whole.every(({ complete }) => complete),
			});
		})();
		return () => {
			wanted = false;
		};
	}, [names, ...maps]);
	return found;
}
