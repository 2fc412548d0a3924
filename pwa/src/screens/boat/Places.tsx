/** Shelves, racks and crates of the shed, as a tree. */
import { useState } from "preact/hooks";
import { codesOn } from "../../domain/names.ts";
import { shown } from "../../domain/tag.ts";
import { flatten } from "../../domain/tree.ts";
import { boat, newKey } from "../../storage/boat.ts";
import { Screen } from "../../ui/Screen.tsx";
import { Code } from "../../ui/Tag.tsx";
import { count } from "../../ui/words.ts";
import { keepOrSay } from "../common/keeping.ts";
import { NameForm } from "../common/NameForm.tsx";
import { PATHS } from "../paths.ts";
import { heldIn } from "./held.ts";

export function Places() {
	const [fault, setFault] = useState<string | null>(null);
	const tags = boat.table("tag").value;
	const rows = flatten(boat.table("place").value);
	const held = heldIn();
	const add = async (name: string): Promise<void> => {
		setFault(
			await keepOrSay([{ table: "place", key: newKey(), set: { name, sort: sortOf(name) } }]),
		);
	};
	return (
		<Screen title="Shelves and crates" backTo={PATHS.boat}>
			<NameForm
				label="Add a shelf or crate"
				button="Add"
				fault={fault}
				onName={(name) => void add(name)}
			/>
			<div class="rows part">
				{rows.length === 0 && (
					<p class="row pencil">None yet. Name the first shelf or crate above.</p>
				)}
				{rows.map(({ node, depth }) => {
					const [code] = codesOn(tags, `place/${node.key}`);
					return (
						<a
							key={node.key}
							class="row pick-row"
							data-depth={Math.min(depth, 4)}
							href={PATHS.place(node.key)}
						>
							<span class="row-main">
								<span class={depth === 0 ? "row-title" : ""}>{node.name ?? "unnamed"}</span>
								<span class="row-under">{count(held.get(node.key) ?? 0, "item")}</span>
							</span>
							{code && <Code>{shown(code)}</Code>}
						</a>
					);
				})}
			</div>
		</Screen>
	);
}

function sortOf(name: string): "shelf" | "crate" | "rack" {
	if (/shelf|shelves/i.test(name)) return "shelf";
	return /rack/i.test(name) ? "rack" : "crate";
}
