/** A new part has come: it gets a tag, and the place of the old one. */
import { useState } from "preact/hooks";
import { newPartEdits, newPartOf } from "../../domain/buying.ts";
import type { Item } from "../../domain/contract.ts";
import { itemName } from "../../domain/names.ts";
import { shown } from "../../domain/tag.ts";
import { pathOf } from "../../domain/tree.ts";
import { boat, newKey } from "../../storage/boat.ts";
import { rules } from "../../storage/rules.ts";
import { reserve } from "../../sync/tags.ts";
import { TextField } from "../../ui/Field.tsx";
import { Icon } from "../../ui/Icon.tsx";
import { Notice } from "../../ui/Notice.tsx";
import { go } from "../../ui/router.ts";
import { Screen } from "../../ui/Screen.tsx";
import { Unbroken } from "../../ui/Tag.tsx";
import { CodeEntry } from "../common/CodeEntry.tsx";
import { ItemTag } from "../common/ItemTag.tsx";
import { keepOrSay } from "../common/keeping.ts";
import { ScanBox } from "../common/ScanBox.tsx";
import { ownerOf } from "../common/tagOwner.ts";
import { Missing } from "../item/Missing.tsx";
import { PATHS } from "../paths.ts";
import { PlaceSheet } from "./Leftovers.tsx";
import { lineOfItem } from "./lines.ts";

type Way = "scan" | "type" | "place" | null;

export function NewPartScreen({ oldKey }: { oldKey: string }) {
	const old = boat.table("item").value.get(oldKey);
	if (!old) return <Missing itemKey={oldKey} />;
	return (
		<Screen
			title="The new part"
			under="It gets a tag of its own, and in “Put back” it stands where the old one sat."
			backTo={PATHS.item(oldKey)}
		>
			<section class="part">
				<h2>In the place of</h2>
				<div class="part-tight">
					<ItemTag item={old} />
				</div>
			</section>
			<There old={old} />
			<Form key={old.key} old={old} />
		</Screen>
	);
}

/** A new part that is there already: a second one takes its place in turn. */
function There({ old }: { old: Item }) {
	const there = newPartOf(boat.table("item").value, old.key);
	if (!there) return null;
	return (
		<Notice sort="asks">
			<p>
				There is a new part already:{" "}
				<a href={PATHS.item(there.key)}>{itemName(there, rules.value)}</a>. Keep another only if
				that one was wrong; the last one counts.
			</p>
		</Notice>
	);
}

function Form({ old }: { old: Item }) {
	const [name, setName] = useState(`${itemName(old, rules.value)}, new`);
	const [scanned, setScanned] = useState<string | null>(null);
	const [place, setPlace] = useState<string | null>(null);
	const [way, setWay] = useState<Way>(null);
	const [said, setSaid] = useState<string | null>(null);
	const next = reserve.value.find((code) => ownerOf(code).sort === "free") ?? null;
	const code = scanned ?? next;
	const use = (text: string): void => {
		const owner = ownerOf(text);
		if (owner.sort === "free") {
			setScanned(text);
			setSaid(null);
		} else setSaid(`${shown(text)} is already used, on ${owner.name}. Take another tag.`);
		setWay(null);
	};
	const keep = async (): Promise<void> => {
		const items = boat.table("item").value;
		const line = lineOfItem(old);
		const purchase = line ? boat.table("purchase").value.get(line.id) : undefined;
		const key = newKey();
		const part = { key, old, name, code, place, now: new Date().toISOString() };
		const fault = await keepOrSay(newPartEdits(part, line, purchase, items));
		setSaid(fault);
		if (!fault) go(PATHS.item(key), { replace: true });
	};
	return (
		<section class="part">
			<TextField
				label="What it is called"
				value={name}
				longest={200}
				onKeep={(text) => {
					if (text === "") return "Write a name, so that it is known in the list.";
					setName(text);
					return null;
				}}
			/>
			<div class="field">
				<span class="field-label">Its tag</span>
				<p class="figure-large" data-testid="new-part-code">
					{code ? shown(code) : "No tag"}
				</p>
				<p class="field-hint">{codeWords(scanned, next)}</p>
			</div>
			<div class="buttons">
				<button type="button" class="button" onClick={() => setWay("scan")}>
					<Icon name="scan" /> Scan another
				</button>
				<button type="button" class="button" onClick={() => setWay("type")}>
					Type its code
				</button>
			</div>
			{way === "scan" && <ScanBox onCode={use} onClose={() => setWay(null)} />}
			{way === "type" && <CodeEntry label="Code on the tag" button="Use it" onCode={use} />}
			<div class="field">
				<span class="field-label" id="new-part-place">
					Where it lies now
				</span>
				<button
					type="button"
					class="input choose"
					aria-describedby="new-part-place"
					onClick={() => setWay("place")}
				>
					<span>{pathOf(boat.table("place").value, place).join(", ") || "In no place yet"}</span>
					<span class="choose-change">Change</span>
				</button>
			</div>
			{way === "place" && (
				<PlaceSheet
					picked={place}
					onPick={(picked) => {
						setPlace(picked);
						setWay(null);
					}}
					onClose={() => setWay(null)}
				/>
			)}
			{said && (
				<Notice sort="asks" role="alert">
					{said}
				</Notice>
			)}
			<div class="buttons">
				<button
					type="button"
					class="button button-main button-wide button-hot"
					onClick={() => void keep()}
				>
					<span>
						<Unbroken text={code ? `Keep it, with tag ${shown(code)}` : "Keep it without a tag"} />
					</span>
				</button>
			</div>
		</section>
	);
}

function codeWords(scanned: string | null, next: string | null): string {
	if (scanned) return "The tag that you scanned or typed.";
	if (next) return "The next printed tag of this phone: hang it on the part.";
	return "This phone has no tag left: scan a printed one, or keep it and tag it later.";
}
