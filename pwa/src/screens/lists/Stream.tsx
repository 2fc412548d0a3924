/** One waste stream: code, mass, what to keep it in and apart from, cautions, and its items. */
import { useState } from "preact/hooks";
import { pathsOfStream } from "../../domain/apart.ts";
import type { WasteItem, WasteStream } from "../../domain/contract.ts";
import { shown } from "../../domain/tag.ts";
import { rules } from "../../storage/rules.ts";
import { Growing } from "../../ui/Growing.tsx";
import { Cautions } from "../../ui/Notice.tsx";
import { State } from "../../ui/State.tsx";
import { Code } from "../../ui/Tag.tsx";
import { PathSteps } from "../boxes/PathSteps.tsx";
import { PATHS } from "../paths.ts";
import { Mass } from "./Mass.tsx";

interface Props {
	stream: WasteStream;
	all: readonly WasteStream[];
}

export function Stream({ stream, all }: Props) {
	const [open, setOpen] = useState(false);
	return (
		<details open={open} onToggle={(event) => setOpen(event.currentTarget.open)}>
			<summary>
				<span class="row-main">
					<span class="row-title">{stream.name}</span>
					<span class="row-under stream-code">{stream.code}</span>
					{stream.hazardous && <State is="danger">hazardous</State>}
				</span>
				<Mass of={stream.on_site} />
			</summary>
			<div class="inset">
				<Cautions of={stream.cautions} />
				<PathSteps of={pathsOfStream(stream.id, rules.value)} />
				<dl class="facts">
					<Fact name="Code means" value={stream.code_title} />
					<Fact name="Why here" value={stream.why} />
					<Fact name="Printed in" value={stream.basis ?? ""} />
					<Fact name="Keep in" value={stream.keep_in} />
					<Fact
						name="Keep apart from"
						value={stream.keep_apart.map((id) => nameOf(id, all)).join(", ")}
					/>
					<Fact name="Transport" value={stream.transport} />
					<Fact name="Call" value={stream.call.join(", ")} />
					<Fact name="Usually measured" value={stream.measured ?? ""} />
				</dl>
				{open && (
					<div class="rows">
						<Growing of={stream.items}>
							{(item) => <StreamItem key={item.key} item={item} />}
						</Growing>
					</div>
				)}
				<p class="part-note small">{sourceWords(stream)}</p>
			</div>
		</details>
	);
}

function Fact({ name, value }: { name: string; value: string }) {
	if (!value) return null;
	return (
		<>
			<dt>{name}</dt>
			<dd>{value}</dd>
		</>
	);
}

function StreamItem({ item }: { item: WasteItem }) {
	return (
		<a class="row" href={PATHS.line(item.key)}>
			<span class="row-main">
				<span class="row-title">
					{item.name}
					{item.count > 1 ? `, ${item.count} pieces` : ""}
				</span>
				<span class="row-under">{item.reason}</span>
				<span class="tag-line">
					{item.tags.map((code) => (
						<Code key={code}>{shown(code)}</Code>
					))}
					{item.assumed && <State is="waits">assumed</State>}
					{item.gone && <State is="out">gone</State>}
				</span>
			</span>
			<Mass of={item.mass} />
		</a>
	);
}

/** Where the row comes from; what is from memory says so and asks to be checked. */
function sourceWords({ sources, from_memory }: WasteStream): string {
	const words = `Source: ${sources.join("; ")}`;
	return from_memory ? `${words}. Check with the waste site what is from memory.` : words;
}

function nameOf(id: string, all: readonly WasteStream[]): string {
	return all.find((stream) => stream.id === id)?.name ?? id;
}
