/** The pipes, or the wires, of the boat as she was: a drawing of each system, and its runs. */
import type { Schedule, ScheduleRow, ScheduleSystem } from "../../domain/contract.ts";
import { shown } from "../../domain/tag.ts";
import { boat } from "../../storage/boat.ts";
import { lists } from "../../sync/lists.ts";
import { Notice } from "../../ui/Notice.tsx";
import { Screen } from "../../ui/Screen.tsx";
import { State } from "../../ui/State.tsx";
import { Code, Unbroken } from "../../ui/Tag.tsx";
import { ago, count, length } from "../../ui/words.ts";
import { PATHS } from "../paths.ts";
import { SchedulePicture } from "./SchedulePicture.tsx";
import "./schedule.css";

const WORDS = {
	piping: { title: "Piping as it was", other: "wiring", otherWord: "Wiring as it was" },
	wiring: { title: "Wiring as it was", other: "piping", otherWord: "Piping as it was" },
} as const;

export function ScheduleScreen({ sort }: { sort: "piping" | "wiring" }) {
	const aged = lists.value[sort];
	const { title, other, otherWord } = WORDS[sort];
	const under = aged
		? `Drawn by the server ${ago(Date.parse(aged.madeAt), Date.now())}.`
		: "The server has not sent this drawing to this phone yet.";
	return (
		<Screen title={title} under={under} backTo={PATHS.renewals}>
			{aged && <Systems list={aged.list} />}
			<section class="part">
				<h2>Print</h2>
				<div class="buttons">
					<Printing sort={sort} />
					<a class="button button-quiet" href={PATHS[other]}>
						{otherWord}
					</a>
				</div>
				<p class="part-note">The server prints, so this needs a connection to it.</p>
			</section>
		</Screen>
	);
}

function Printing({ sort }: { sort: "piping" | "wiring" }) {
	const base = `/api/boats/${boat.key.value}/lists/${sort}`;
	return (
		<>
			<a class="button" href={`${base}.pdf`} target="_blank" rel="noreferrer">
				Print (PDF)
			</a>
			<a class="button" href={`${base}.csv`} download={`${sort}.csv`}>
				Table (CSV)
			</a>
		</>
	);
}

function Systems({ list }: { list: Schedule }) {
	if (list.systems.length === 0)
		return (
			<div class="empty">
				<h2>No run is recorded yet</h2>
				<p>Take out a hose, pipe or cable and say what its ends were joined to.</p>
			</div>
		);
	return (
		<>
			{list.cautions.map((text) => (
				<Notice key={text} sort="asks">
					{text}
				</Notice>
			))}
			<p class="part-note">
				Each drawing goes from the stem (left) aft. On a line stands its tag, or its number in the
				rows below; under it the size. Push a wide drawing with a finger.
			</p>
			{list.systems.map((system) => (
				<System key={system.system} system={system} heads={list.heads} />
			))}
		</>
	);
}

function System({ system, heads }: { system: ScheduleSystem; heads: readonly string[] }) {
	return (
		<section class="part">
			<h2>{system.name}</h2>
			<p class="part-note">{count(system.rows.length, "run")}</p>
			{system.blocks.map((block, at) => (
				<SchedulePicture
					key={block.nodes[0]?.key}
					block={block}
					label={`${system.name}, drawing ${at + 1}: ${count(block.runs.length, "line")} between ${count(block.nodes.length, "box", "boxes")}; the same as the rows below`}
				/>
			))}
			<div class="rows">
				{system.rows.map((row) => (
					<Row key={row.item} row={row} heads={heads} />
				))}
			</div>
			{system.open_questions.map((question) => (
				<p key={question} class="small">
					<State is="waits">{question}</State>
				</p>
			))}
		</section>
	);
}

function Row({ row, heads }: { row: ScheduleRow; heads: readonly string[] }) {
	const ends = row.ends.map((end) => end || "not written down");
	return (
		<a class="row schedule-row" href={PATHS.item(row.item)}>
			<span class="row-main">
				<span class="row-title">{row.name}</span>
				<span class="row-under schedule-ends">
					<Unbroken text={ends.join(" – ")} />
				</span>
				{heads.map(
					(head, at) =>
						row.more[at] && (
							<span key={head} class="row-under">
								{head}: <Unbroken text={row.more[at] ?? ""} />
							</span>
						),
				)}
			</span>
			<span class="mass">
				{row.tags[0] ? <Code>{shown(row.tags[0])}</Code> : <span>no. {row.number}</span>}
				<small>
					{[row.size, row.length_mm ? length(row.length_mm) : "length open"]
						.filter(Boolean)
						.join(", ")}
				</small>
			</span>
		</a>
	);
}
