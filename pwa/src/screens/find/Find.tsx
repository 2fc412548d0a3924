/** Find an item: scan its tag, type its code, or search by words. */
import { computed } from "@preact/signals";
import { useState } from "preact/hooks";
import type { Item } from "../../domain/contract.ts";
import { codesOn, kindOf } from "../../domain/names.ts";
import { matcherOf, searchable } from "../../domain/search.ts";
import { shown } from "../../domain/tag.ts";
import { pathOf } from "../../domain/tree.ts";
import { boat } from "../../storage/boat.ts";
import { rules } from "../../storage/rules.ts";
import { Icon } from "../../ui/Icon.tsx";
import { Notice } from "../../ui/Notice.tsx";
import { go } from "../../ui/router.ts";
import { Screen } from "../../ui/Screen.tsx";
import { count } from "../../ui/words.ts";
import { CodeEntry } from "../common/CodeEntry.tsx";
import { ItemRow } from "../common/ItemTag.tsx";
import { ScanBox } from "../common/ScanBox.tsx";
import { ownerOf } from "../common/tagOwner.ts";
import { PATHS } from "../paths.ts";

const MOST = 60;

export function Find() {
	const [text, setText] = useState("");
	const [scanning, setScanning] = useState(false);
	const [free, setFree] = useState<string | null>(null);
	const open = (code: string): void => {
		const owner = ownerOf(code);
		if (owner.sort === "free") setFree(code);
		else go(owner.path);
	};
	return (
		<Screen title="Find">
			{scanning ? (
				<ScanBox onCode={open} onClose={() => setScanning(false)} />
			) : (
				<button
					type="button"
					class="button button-main button-wide button-hot"
					onClick={() => setScanning(true)}
				>
					<Icon name="scan" /> Scan a tag
				</button>
			)}
			<CodeEntry label="Or type its code" button="Open" onCode={open} />
			{free && <FreeTag code={free} />}
			<label class="field">
				<span class="field-label">Or search by words</span>
				<input
					class="input"
					type="search"
					autoComplete="off"
					value={text}
					onInput={(event) => setText(event.currentTarget.value)}
				/>
			</label>
			<Found text={text} />
		</Screen>
	);
}

function FreeTag({ code }: { code: string }) {
	return (
		<div class="field">
			<Notice sort="asks" role="alert">
				<p>
					<span class="notice-word">{shown(code)} is on nothing that this phone knows.</span> It may
					be a blank tag, or another phone used it and has not sent that yet.
				</p>
				<div class="buttons">
					<a class="button" href={`${PATHS.takeOut}?code=${code}`}>
						Use it on the next item
					</a>
				</div>
			</Notice>
		</div>
	);
}

function Found({ text }: { text: string }) {
	const items = [...boat.table("item").value.values()];
	if (text.trim() === "") return <Latest items={items} />;
	const isMeant = matcherOf(text);
	const found = items.filter((item) => isMeant(texts.value.get(item.key) ?? ""));
	if (found.length === 0)
		return (
			<div class="part empty">
				<h2>Nothing has all of these words</h2>
				<p>Try fewer words, or the compartment it sat in.</p>
			</div>
		);
	return (
		<section class="part">
			<h2>{count(found.length, "item")}</h2>
			<div class="rows">
				{found.slice(0, MOST).map((item) => (
					<ItemRow key={item.key} item={item} />
				))}
			</div>
			{found.length > MOST && <p class="part-note">The first {MOST} are shown; add a word.</p>}
		</section>
	);
}

function Latest({ items }: { items: Item[] }) {
	const latest = items
		.filter((item) => item.out_at !== null)
		.sort((a, b) => (b.out_at ?? "").localeCompare(a.out_at ?? ""))
		.slice(0, 6);
	if (items.length === 0)
		return (
			<div class="part empty">
				<h2>Nothing is recorded yet</h2>
				<p>
					<a href={PATHS.takeOut}>Take the first item out</a>
				</p>
			</div>
		);
	if (latest.length === 0) return null;
	return (
		<section class="part">
			<h2>Taken out last</h2>
			<div class="rows">
				{latest.map((item) => (
					<ItemRow key={item.key} item={item} />
				))}
			</div>
		</section>
	);
}

/** Of every item; made when a search begins and kept until anything of it changes. */
const texts = computed(() => {
	// Most of the words are those of a kind, a compartment or a shelf, the same for many items.
	const ready = new Map<string, string>();
	const readyOf = (text: string): string => {
		const found = ready.get(text) ?? searchable(text);
		ready.set(text, found);
		return found;
	};
	const items = [...boat.table("item").value.values()];
	return new Map(items.map((item) => [item.key, searchTexts(item).map(readyOf).join("")]));
});

/** Everything a person may remember of an item. */
function searchTexts(item: Item): string[] {
	const kind = kindOf(item, rules.value);
	const target = `item/${item.key}`;
	return [
		item.name,
		kind?.name,
		kind?.words.join(" "),
		...pathOf(boat.table("compartment").value, item.compartment),
		...pathOf(boat.table("place").value, item.place),
		...codesOn(boat.table("tag").value, target),
		item.sat,
		item.size,
		item.note,
		item.fate,
	].filter((text) => typeof text === "string");
}
