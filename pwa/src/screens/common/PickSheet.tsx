/** A sheet to pick one place out of a tree: a compartment of the boat, or a place in the shed. */
import { useState } from "preact/hooks";
import { matches } from "../../domain/search.ts";
import {
	flatten,
	isUnder,
	type Node,
	type NodeMap,
	pathOf,
	withinFault,
} from "../../domain/tree.ts";
import { Notice } from "../../ui/Notice.tsx";
import { Sheet } from "../../ui/Sheet.tsx";

interface Props {
	title: string;
	nodes: NodeMap;
	picked: string | null;
	/** Left out of the list with everything under it: a record can't lie within itself. */
	without?: string;
	/** The first row, for "nowhere"; left out when something must be picked. */
	none?: string;
	/** Keys used last, offered first. */
	recent?: readonly string[];
	/** Words for making a new one from the text that was searched for. */
	addWord?: string;
	onAdd?: (name: string) => void;
	onPick: (key: string | null) => void;
	onClose: () => void;
}

export function PickSheet(props: Props) {
	const { title, nodes, picked, none, recent = [], addWord, onAdd, onPick, onClose } = props;
	const [text, setText] = useState("");
	const name = text.trim();
	const rows = rowsFor(props, name);
	const refused = name === "" ? [] : refusedFor(props, name);
	const known = recent.map((key) => nodes.get(key)).filter((node) => node !== undefined);
	return (
		<Sheet title={title} onClose={onClose}>
			<label class="field">
				<span class="field-label">Search or name a new one</span>
				<input
					class="input"
					type="search"
					autoComplete="off"
					value={text}
					onInput={(event) => setText(event.currentTarget.value)}
				/>
			</label>
			<div class="rows pick-rows">
				{none && !name && <PickRow name={none} on={picked === null} onTap={() => onPick(null)} />}
				{!name &&
					known.map((node) => (
						<PickRow
							key={`recent ${node.key}`}
							name={node.name ?? "unnamed"}
							under={["Used last", ...pathOf(nodes, node.within)].join(" · ")}
							on={picked === node.key}
							onTap={() => onPick(node.key)}
						/>
					))}
				{rows.map(({ node, depth }) => (
					<PickRow
						key={node.key}
						name={node.name ?? "unnamed"}
						depth={name ? 0 : depth}
						under={name ? pathOf(nodes, node.within).join(", ") : ""}
						on={picked === node.key}
						onTap={() => onPick(node.key)}
					/>
				))}
				{name && onAdd && addWord && (
					<PickRow name={`${addWord} “${name}”`} on={false} onTap={() => onAdd(name)} />
				)}
				{rows.length + refused.length === 0 && name && !onAdd && (
					<p class="row pencil">Nothing is called that.</p>
				)}
			</div>
			{refused.map((why) => (
				<Notice key={why} sort="asks" role="status">
					{why}
				</Notice>
			))}
		</Sheet>
	);
}

function rowsFor({ nodes, without }: Props, name: string): { node: Node; depth: number }[] {
	const rows = flatten(nodes);
	const hidden = new Set(
		without
			? rows.filter(({ node }) => isUnder(nodes, node.key, without)).map((r) => r.node.key)
			: [],
	);
	return rows
		.filter(({ node }) => !hidden.has(node.key))
		.filter(({ node }) => name === "" || matches(name, pathOf(nodes, node.key).join(" ")));
}

/** Who looks for one of what is left out by its name is told why it isn't there. */
function refusedFor({ nodes, without }: Props, name: string): string[] {
	if (!without) return [];
	return [...nodes.values()]
		.filter((node) => matches(name, node.name ?? ""))
		.map((node) => withinFault(nodes, without, node.key))
		.filter((why) => why !== null);
}

interface RowProps {
	name: string;
	under?: string;
	depth?: number;
	on: boolean;
	onTap: () => void;
}

function PickRow({ name, under, depth = 0, on, onTap }: RowProps) {
	return (
		<button
			type="button"
			class="row pick-row"
			data-depth={Math.min(depth, 4)}
			aria-pressed={on}
			onClick={onTap}
		>
			<span class="row-main">
				<span class={on ? "row-title" : ""}>{name}</span>
				{under && <span class="row-under">{under}</span>}
			</span>
			{on && <span class="small pencil">Chosen</span>}
		</button>
	);
}
