/** Which thing is on the scale: scan its tag, type its code, or find it by words. */
import { useState } from "preact/hooks";
import { itemName } from "../../domain/names.ts";
import { matches } from "../../domain/search.ts";
import { shown } from "../../domain/tag.ts";
import { pathOf } from "../../domain/tree.ts";
import { boat } from "../../storage/boat.ts";
import { rules } from "../../storage/rules.ts";
import { Icon } from "../../ui/Icon.tsx";
import { Notice } from "../../ui/Notice.tsx";
import { CodeEntry } from "../common/CodeEntry.tsx";
import { whereItSat } from "../common/ItemTag.tsx";
import { ScanBox } from "../common/ScanBox.tsx";
import { ownerOf } from "../common/tagOwner.ts";

const MOST = 30;

interface Props {
	/** The address named something that is not on this phone. */
	missing: boolean;
	onPick: (target: string) => void;
}

export function OnTheScale({ missing, onPick }: Props) {
	const [scanning, setScanning] = useState(false);
	const [free, setFree] = useState<string | null>(null);
	const seen = (code: string): void => {
		const owner = ownerOf(code);
		if (owner.sort === "free") setFree(code);
		else onPick(`${owner.sort}/${owner.key}`);
	};
	return (
		<>
			{missing && (
				<Notice sort="asks" role="status">
					What was meant is not on this phone: it may be in the bin, or another phone has not sent
					it yet.
				</Notice>
			)}
			{scanning ? (
				<ScanBox onCode={seen} onClose={() => setScanning(false)} />
			) : (
				<button
					type="button"
					class="button button-main button-wide button-hot"
					onClick={() => setScanning(true)}
				>
					<Icon name="scan" /> Scan what is on the scale
				</button>
			)}
			<CodeEntry label="Or type its code" button="Weigh" onCode={seen} />
			{free && (
				<Notice sort="asks" role="alert">
					{shown(free)} is on nothing that this phone knows. Scan another tag, or find it by words.
				</Notice>
			)}
			<ByWords onPick={onPick} />
		</>
	);
}

interface Found {
	readonly target: string;
	readonly name: string;
	readonly under: string;
}

function ByWords({ onPick }: { onPick: (target: string) => void }) {
	const [text, setText] = useState("");
	const words = text.trim();
	const all = everything();
	const found = words ? all.filter((row) => matches(words, `${row.name} ${row.under}`)) : all;
	return (
		<section class="part">
			<label class="field">
				<span class="field-label">Or find it by words</span>
				<input
					class="input"
					type="search"
					autoComplete="off"
					value={text}
					onInput={(event) => setText(event.currentTarget.value)}
				/>
			</label>
			<div class="rows">
				{found.slice(0, MOST).map(({ target, name, under }) => (
					<button type="button" class="row" key={target} onClick={() => onPick(target)}>
						<span class="row-main">
							<span class="row-title">{name}</span>
							<span class="row-under">{under}</span>
						</span>
					</button>
				))}
			</div>
			{found.length === 0 && <p class="part-note">Nothing has all of these words.</p>}
			{found.length > MOST && <p class="part-note">The first {MOST} are shown; add a word.</p>}
		</section>
	);
}

/** Crates and containers first: they are few, and what hangs on a scale most often. */
function everything(): Found[] {
	const places = boat.table("place").value;
	const crates = [...places.values()]
		.filter(({ sort }) => sort === null || sort === "crate")
		.map((row) => ({
			target: `place/${row.key}`,
			name: row.name ?? "unnamed",
			under: ["Crate", ...pathOf(places, row.within)].join(" · "),
		}));
	const containers = [...boat.table("container").value.values()]
		.filter(({ handover }) => handover === null)
		.map((row) => ({
			target: `container/${row.key}`,
			name: row.name ?? "unnamed",
			under: "Waste container",
		}));
	const items = [...boat.table("item").value.values()]
		.filter(({ whereabouts }) => whereabouts !== "gone")
		.map((item) => ({
			target: `item/${item.key}`,
			name: itemName(item, rules.value),
			under: whereItSat(item),
		}));
	return [...crates, ...containers, ...items];
}
