/** Filled tags for what already has a code: items, crates and shelves, waste containers. */
import { useState } from "preact/hooks";
import { shown } from "../../domain/tag.ts";
import { boat } from "../../storage/boat.ts";
import { Choice } from "../../ui/Choice.tsx";
import { Code } from "../../ui/Tag.tsx";
import { count } from "../../ui/words.ts";
import { ownerOf } from "../common/tagOwner.ts";
import { PrintLink } from "./PrintLink.tsx";
import { sheetUrl } from "./sheetUrl.ts";

const MOST_PICKED = 200;
const MOST_SHOWN = 60;

type On = "item" | "place" | "container";

export function WhichCodes({ sheet }: { sheet: string }) {
	const [on, setOn] = useState<On>("item");
	const [picked, setPicked] = useState<ReadonlySet<string>>(new Set());
	const all = [...boat.table("tag").value.values()]
		.filter((tag) => tag.on?.startsWith(`${on}/`))
		.map((tag) => tag.key)
		.reverse();
	const wanted =
		picked.size > 0 ? all.filter((code) => picked.has(code)) : all.slice(0, MOST_PICKED);
	const toggle = (code: string): void => {
		const next = new Set(picked);
		if (!next.delete(code)) next.add(code);
		setPicked(next);
	};
	return (
		<>
			<Choice
				name="tag-on"
				legend="On what"
				wrap
				options={[
					{ value: "item", label: "Items" },
					{ value: "place", label: "Crates, shelves" },
					{ value: "container", label: "Waste containers" },
				]}
				value={on}
				onChange={(next) => {
					setOn(next ?? "item");
					setPicked(new Set());
				}}
			/>
			{all.length === 0 ? (
				<div class="empty part">
					<h2>None of these has a tag yet</h2>
					<p>Print blank tags, hang one on, and scan it.</p>
				</div>
			) : (
				<PrintLink
					href={sheetUrl(boat.key.value ?? "", { sheet, look: "filled", codes: wanted })}
					words={
						all.length > MOST_PICKED && picked.size === 0
							? `Print the newest ${MOST_PICKED} filled tags`
							: `Print ${count(wanted.length, "filled tag")}`
					}
				/>
			)}
			<fieldset class="field">
				<legend>{all.length > 0 ? "Only these" : ""}</legend>
				<div class="rows">
					{all.slice(0, MOST_SHOWN).map((code) => (
						<TagRow key={code} code={code} on={picked.has(code)} onToggle={() => toggle(code)} />
					))}
				</div>
			</fieldset>
		</>
	);
}

function TagRow({ code, on, onToggle }: { code: string; on: boolean; onToggle: () => void }) {
	const owner = ownerOf(code);
	return (
		<label class="row pick-row">
			<input class="tick" type="checkbox" checked={on} onChange={onToggle} />
			<span class="row-main">{owner.sort === "free" ? "Not on this phone" : owner.name}</span>
			<Code>{shown(code)}</Code>
		</label>
	);
}
