/** All waste containers: those that stand here, then those that have gone. */
import type { Container } from "../../domain/contract.ts";
import { codesOn } from "../../domain/names.ts";
import { shown } from "../../domain/tag.ts";
import { boat } from "../../storage/boat.ts";
import { Screen } from "../../ui/Screen.tsx";
import { State } from "../../ui/State.tsx";
import { Code } from "../../ui/Tag.tsx";
import { count } from "../../ui/words.ts";
import { Mass } from "../lists/Mass.tsx";
import { PATHS } from "../paths.ts";
import { itemsIn, stateOf, streamName, viewOf } from "./boxWords.ts";

export function Boxes() {
	const all = [...boat.table("container").value.values()].sort((a, b) =>
		(a.name ?? "").localeCompare(b.name ?? ""),
	);
	const here = all.filter((box) => stateOf(box) !== "gone");
	const gone = all.filter((box) => stateOf(box) === "gone");
	return (
		<Screen title="Containers" backTo={PATHS.waste}>
			<div class="buttons">
				<a class="button button-main button-wide button-hot" href={PATHS.newBox()}>
					New container
				</a>
				<a class="button" href={PATHS.newHandover()}>
					Hand over
				</a>
				<a class="button" href={PATHS.quantities}>
					Over the months
				</a>
			</div>
			<section class="part">
				<h2>Standing here</h2>
				{here.length === 0 ? (
					<p class="part-note">None yet. A new container begins with what is to go into it.</p>
				) : (
					<Rows of={here} />
				)}
			</section>
			{gone.length > 0 && (
				<section class="part">
					<h2>Handed over</h2>
					<Rows of={gone} />
				</section>
			)}
		</Screen>
	);
}

function Rows({ of }: { of: readonly Container[] }) {
	return (
		<div class="rows">
			{of.map((box) => (
				<Row key={box.key} box={box} />
			))}
		</div>
	);
}

function Row({ box }: { box: Container }) {
	const [code] = codesOn(boat.table("tag").value, `container/${box.key}`);
	const view = viewOf(box.key);
	const state = stateOf(box);
	const stopped = view?.bans.length ?? 0;
	const odd = view?.faults.length ?? 0;
	return (
		<a class="row" href={PATHS.box(box.key)}>
			<span class="row-main">
				<span class="row-title">{box.name ?? "Container without a name"}</span>
				<span class="row-under">
					{streamName(box.stream)}, {count(itemsIn(box.key).length, "entry", "entries")}
				</span>
				<span class="tag-line row-tags">
					{code && <Code>{shown(code)}</Code>}
					{state === "gone" && <State is="out">gone</State>}
					{state === "closed" && <State is="out">closed</State>}
					{state === "open" && <State is="plain">open</State>}
					{stopped > 0 && <State is="danger">mixed</State>}
					{odd > 0 && <State is="waits">{`${odd} to put right`}</State>}
				</span>
			</span>
			{view && <Mass of={view.inside} />}
		</a>
	);
}
