/** Putting a printed tag on a crate or a container: scanned, or typed where it is too dirty. */
import { useState } from "preact/hooks";
import { shown } from "../../domain/tag.ts";
import { Icon } from "../../ui/Icon.tsx";
import { Notice } from "../../ui/Notice.tsx";
import { CodeEntry } from "./CodeEntry.tsx";
import { keepOrSay } from "./keeping.ts";
import { ScanBox } from "./ScanBox.tsx";
import { ownerOf } from "./tagOwner.ts";

interface Props {
	/** What it is put on, like `place/KEY`. */
	on: string;
	codes: readonly string[];
}

export function TagEntry({ on, codes }: Props) {
	const [scanning, setScanning] = useState(false);
	const [said, setSaid] = useState<{ sort: "done" | "asks"; words: string } | null>(null);
	const put = async (code: string): Promise<void> => {
		if (codes.includes(code)) return;
		const owner = ownerOf(code);
		if (owner.sort !== "free") {
			const words = `${shown(code)} is already used, on ${owner.name}. Take another tag.`;
			setSaid({ sort: "asks", words });
			return;
		}
		const fault = await keepOrSay([{ table: "tag", key: code, set: { on, binned: null } }]);
		setScanning(false);
		setSaid(
			fault
				? { sort: "asks", words: fault }
				: { sort: "done", words: `${shown(code)} is on it. Kept on this phone.` },
		);
	};
	return (
		<>
			<CodeEntry
				label={codes.length > 0 ? "Put another tag on it" : "Put a tag on it: type the code"}
				button="Put on"
				onCode={(code) => void put(code)}
			/>
			{scanning ? (
				<ScanBox onCode={(code) => void put(code)} onClose={() => setScanning(false)} />
			) : (
				<div class="buttons">
					<button type="button" class="button button-wide" onClick={() => setScanning(true)}>
						<Icon name="scan" /> Scan its tag
					</button>
				</div>
			)}
			{said && (
				<Notice sort={said.sort} role={said.sort === "done" ? "status" : "alert"}>
					{said.words}
				</Notice>
			)}
		</>
	);
}
