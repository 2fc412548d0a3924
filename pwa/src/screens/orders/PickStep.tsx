/** A sheet to pick what comes first or after: by its tag, from the same compartment, by its name. */
import { useState } from "preact/hooks";
import { matches } from "../../domain/search.ts";
import { jobName } from "../../domain/steps.ts";
import { pathOf } from "../../domain/tree.ts";
import { boat } from "../../storage/boat.ts";
import { rules } from "../../storage/rules.ts";
import { Notice } from "../../ui/Notice.tsx";
import { Sheet } from "../../ui/Sheet.tsx";
import { ScanBox } from "../common/ScanBox.tsx";
import { ownerOf } from "../common/tagOwner.ts";
import { compartmentOf, itemsBeside, targetName } from "./targets.ts";

interface Props {
	title: string;
	/** What the order is written on; not offered itself. */
	of: string;
	/** Why the last pick was refused. */
	fault: string | null;
	onPick: (target: string) => void;
	onClose: () => void;
}

const SHOWN = 40;

export function PickStep({ title, of, fault, onPick, onClose }: Props) {
	const [text, setText] = useState("");
	const [scanning, setScanning] = useState(false);
	const [wrongTag, setWrongTag] = useState<string | null>(null);
	const rows = offers(of, text.trim());
	const scanned = (code: string): void => {
		const owner = ownerOf(code);
		if (owner.sort === "item") onPick(`item/${owner.key}`);
		else setWrongTag("This tag is on no item that this phone knows. Search by name instead.");
	};
	const why = fault ?? wrongTag;
	return (
		<Sheet title={title} onClose={onClose}>
			{why && (
				<Notice sort="asks" role="alert">
					{why}
				</Notice>
			)}
			{scanning ? (
				<ScanBox onCode={scanned} onClose={() => setScanning(false)} />
			) : (
				<button type="button" class="button button-wide" onClick={() => setScanning(true)}>
					Scan its tag
				</button>
			)}
			<label class="field">
				<span class="field-label">Search items, jobs and compartments</span>
				<input
					class="input"
					type="search"
					autoComplete="off"
					value={text}
					onInput={(event) => setText(event.currentTarget.value)}
				/>
			</label>
			<div class="rows pick-rows">
				{rows.length === 0 && <p class="row pencil">Nothing aboard is called that.</p>}
				{rows.slice(0, SHOWN).map(({ target, under }) => (
					<button key={target} type="button" class="row pick-row" onClick={() => onPick(target)}>
						<span class="row-main">
							<span>{targetName(target)}</span>
							{under && <span class="row-under">{under}</span>}
						</span>
					</button>
				))}
			</div>
			{rows.length > SHOWN && (
				<p class="part-note">{rows.length - SHOWN} more: type some of the name.</p>
			)}
		</Sheet>
	);
}

interface Offered {
	readonly target: string;
	readonly under: string;
}

function offers(of: string, text: string): readonly Offered[] {
	const compartments = boat.table("compartment").value;
	const where = (key: string | null): string => pathOf(compartments, key).join(", ");
	const found: Offered[] = itemsBeside(compartmentOf(of)).map((item) => ({
		target: `item/${item.key}`,
		under: where(item.compartment),
	}));
	for (const job of boat.table("job").value.values())
		if (!job.done_at && jobName(job, rules.value))
			found.push({ target: `job/${job.key}`, under: `Job ${where(job.compartment)}`.trim() });
	for (const key of compartments.keys())
		found.push({ target: `compartment/${key}`, under: "All that is in this compartment" });
	return found.filter(
		({ target, under }) =>
			target !== of && (text === "" || matches(text, `${targetName(target)} ${under}`)),
	);
}
