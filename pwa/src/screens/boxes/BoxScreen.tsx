/** One container: put things in, see what is in it and how full it is, weigh, close, hand over. */
import { useState } from "preact/hooks";
import { pathsOfStream } from "../../domain/apart.ts";
import { takeOutOf } from "../../domain/boxing.ts";
import type { Container, Item } from "../../domain/contract.ts";
import { codesOn, itemName } from "../../domain/names.ts";
import { shown } from "../../domain/tag.ts";
import { boat } from "../../storage/boat.ts";
import { rules } from "../../storage/rules.ts";
import { Growing } from "../../ui/Growing.tsx";
import { Icon } from "../../ui/Icon.tsx";
import { Cautions, Notice } from "../../ui/Notice.tsx";
import { Screen } from "../../ui/Screen.tsx";
import { State } from "../../ui/State.tsx";
import { Code } from "../../ui/Tag.tsx";
import { count, day } from "../../ui/words.ts";
import { History } from "../common/History.tsx";
import { keepOrSay } from "../common/keeping.ts";
import { Mass } from "../lists/Mass.tsx";
import { PATHS } from "../paths.ts";
import { BoxSettings } from "./BoxSettings.tsx";
import { itemsIn, stateOf, streamName, viewOf } from "./boxWords.ts";
import { HowFull } from "./HowFull.tsx";
import { Mixed } from "./Mixed.tsx";
import { PathSteps } from "./PathSteps.tsx";
import { PutInto } from "./PutInto.tsx";
import "./boxes.css";

export function BoxScreen({ boxKey }: { boxKey: string }) {
	const box = boat.table("container").value.get(boxKey);
	if (!box)
		return (
			<Screen title="No such container on this phone" backTo={PATHS.boxes}>
				<p>It may be in the bin, or another phone made it and has not sent it yet.</p>
			</Screen>
		);
	const codes = codesOn(boat.table("tag").value, `container/${boxKey}`);
	const stream = rules.value?.streams?.find(({ id }) => id === box.stream);
	const view = viewOf(boxKey);
	const mixings = [...boat.table("mixing").value.values()].filter(
		(row) => row.container === boxKey,
	);
	return (
		<Screen title={box.name ?? "Container"} under={streamName(box.stream)} backTo={PATHS.boxes}>
			<p class="tag-line">
				{codes.map((code) => (
					<Code key={code}>{shown(code)}</Code>
				))}
				<BoxState box={box} />
			</p>
			<div class="part-tight">
				<Cautions of={stream?.cautions ?? []} />
				<PathSteps of={pathsOfStream(box.stream, rules.value)} />
				<Mixed bans={view?.bans ?? []} mixings={mixings} />
			</div>
			<Way box={box} />
			<Label box={box} />
			<HowFull box={box} view={view} />
			<Inside box={box} items={itemsIn(boxKey)} />
			<BoxSettings box={box} codes={codes} />
			<History
				of={[
					["container", boxKey],
					...mixings.map(({ key }) => ["mixing", key] as const),
					...codes.map((code) => ["tag", code] as const),
				]}
			/>
		</Screen>
	);
}

function BoxState({ box }: { box: Container }) {
	const state = stateOf(box);
	if (state === "gone") return <State is="out">Handed over</State>;
	if (state === "closed") return <State is="out">{`Closed ${dayOf(box.closed_at)}`}</State>;
	return (
		<State is="plain">{box.opened_at ? `Open since ${dayOf(box.opened_at)}` : "Open, empty"}</State>
	);
}

/** What can be done with it now. */
function Way({ box }: { box: Container }) {
	const [fault, setFault] = useState<string | null>(null);
	const state = stateOf(box);
	const set = async (closed_at: string | null): Promise<void> =>
		setFault(await keepOrSay([{ table: "container", key: box.key, set: { closed_at } }]));
	if (state === "gone")
		return (
			<Notice sort="plain">
				It has gone; nothing more goes in.{" "}
				<a href={PATHS.handover(box.handover ?? "")}>See the handover</a>
			</Notice>
		);
	return (
		<>
			{state === "open" ? (
				<PutInto box={box} />
			) : (
				<Notice sort="plain">It is closed; nothing goes in until it is opened again.</Notice>
			)}
			<div class="buttons">
				<a class="button button-hot" href={PATHS.weigh(`container/${box.key}`)}>
					Weigh it
				</a>
				{state === "open" ? (
					<button
						type="button"
						class="button button-hot"
						onClick={() => void set(new Date().toISOString())}
					>
						Close it
					</button>
				) : (
					<button type="button" class="button button-hot" onClick={() => void set(null)}>
						Open it again
					</button>
				)}
				<a class="button button-hot" href={PATHS.newHandover(box.key)}>
					Hand it over
				</a>
			</div>
			{fault && (
				<Notice sort="asks" role="alert">
					{fault}
				</Notice>
			)}
		</>
	);
}

/** The printed label; the server draws it, so it needs a connection. */
function Label({ box }: { box: Container }) {
	const key = boat.key.value;
	if (!key || box.handover !== null) return null;
	const query = new URLSearchParams({ containers: box.key, size: sizeFor(box.capacity_l) });
	const label = `/api/boats/${encodeURIComponent(key)}/lists/waste-labels.pdf?${query}`;
	return (
		<div class="buttons">
			<a class="button" href={label} target="_blank" rel="noreferrer">
				<Icon name="print" /> Print its label (PDF)
			</a>
		</div>
	);
}

/** What the sizes of hazard signs ask for: a larger label from 50 L on. */
function sizeFor(litres: number | null): string {
	return litres !== null && litres > 50 ? "a5" : "a6";
}

function Inside({ box, items }: { box: Container; items: readonly Item[] }) {
	const [fault, setFault] = useState<string | null>(null);
	const lines = new Map(viewOf(box.key)?.lines.map((line) => [line.key, line]) ?? []);
	const out = async (item: Item): Promise<void> => setFault(await keepOrSay(takeOutOf(item)));
	return (
		<section class="part">
			<h2>
				{items.length === 0
					? "Nothing recorded in it"
					: `${count(items.length, "entry", "entries")} in it`}
			</h2>
			{fault && (
				<Notice sort="asks" role="alert">
					{fault}
				</Notice>
			)}
			<div class="rows">
				<Growing of={items}>
					{(item) => {
						const line = lines.get(item.key);
						return (
							<div class="row" key={item.key}>
								<a class="row-main box-item" href={PATHS.item(item.key)}>
									<span class="row-title">
										{itemName(item, rules.value)}
										{(item.count ?? 1) > 1 ? `, ${item.count} pieces` : ""}
									</span>
									{item.boxed_at && <span class="row-under">Put in {dayOf(item.boxed_at)}</span>}
								</a>
								{line && <Mass of={line.mass} />}
								{stateOf(box) === "open" && (
									<button
										type="button"
										class="button button-quiet"
										aria-label={`Take out again: ${itemName(item, rules.value)}`}
										onClick={() => void out(item)}
									>
										Take out
									</button>
								)}
							</div>
						);
					}}
				</Growing>
			</div>
		</section>
	);
}

function dayOf(moment: string | null): string {
	return moment ? day(new Date(moment)) : "";
}
