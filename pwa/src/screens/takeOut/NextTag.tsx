/** The tag that the next item gets: scan one, take the next, or type a code. */
import { useState } from "preact/hooks";
import { codesOn } from "../../domain/names.ts";
import { shown } from "../../domain/tag.ts";
import { boat } from "../../storage/boat.ts";
import { Icon } from "../../ui/Icon.tsx";
import { Notice } from "../../ui/Notice.tsx";
import { Sheet } from "../../ui/Sheet.tsx";
import { CodeEntry, readCode } from "../common/CodeEntry.tsx";
import { ownerOf, type TagOwner } from "../common/tagOwner.ts";
import { DraftFileButton } from "./DraftFileButton.tsx";
import { draft, setDraft } from "./draft.ts";
import { nextCode } from "./nextCode.ts";

interface Props {
	/** Where the scanner of the picture reports a code to. */
	scanned: { current: (code: string) => void };
	/** The tag of the item just kept: it still hangs in the picture, so seeing it says nothing. */
	justUsed: string | null;
	onFile: (file: File) => void;
}

type Note = { readonly code: string; readonly owner: TagOwner } | { readonly fault: string } | null;

export function NextTag({ scanned, justUsed, onFile }: Props) {
	const [note, setNote] = useState<Note>(null);
	const [asking, setAsking] = useState(false);
	const use = (text: string, by: "camera" | "hand"): void => {
		const read = readCode(text);
		if ("fault" in read) {
			setNote(read);
			return;
		}
		const { code } = read;
		// The camera goes on seeing the tag just used; a person who types it wants an answer.
		if (by === "camera" && (code === justUsed || code === draft.peek().code)) return;
		const owner = ownerOf(code);
		if (owner.sort !== "free") setNote({ code, owner });
		else {
			setNote(null);
			setDraft({ code });
			navigator.vibrate?.(60);
		}
	};
	scanned.current = (text) => use(text, "camera");
	const typed = (code: string): void => {
		setAsking(false);
		use(code, "hand");
	};
	return (
		<div class="next">
			<button type="button" class="next-tag" onClick={() => setAsking(true)}>
				<span class="next-hole" aria-hidden="true" />
				<NextWords />
			</button>
			<button
				type="button"
				class="button next-square"
				aria-pressed={draft.value.scanning}
				onClick={() => setDraft({ scanning: !draft.peek().scanning })}
			>
				<Icon name="scan" /> Scan
			</button>
			<DraftFileButton class="button next-square" onFile={onFile}>
				<Icon name="file" /> File
			</DraftFileButton>
			{note && <NoteLine note={note} onClose={() => setNote(null)} />}
			{asking && <TagSheet onTyped={typed} onClose={() => setAsking(false)} />}
		</div>
	);
}

function NextWords() {
	const next = nextCode.value;
	const item = draft.value.item;
	const [own] = item ? codesOn(boat.table("tag").value, `item/${item}`) : [];
	const how = next
		? next.how === "scanned"
			? "goes on this item"
			: "next tag, or scan one"
		: own
			? "its tag already"
			: "scan a printed tag";
	return (
		<span>
			<span class="next-code" data-testid="next-code">
				{next ? shown(next.code) : own ? shown(own) : "No tag"}
			</span>
			<span class="next-how">{how}</span>
		</span>
	);
}

function NoteLine({ note, onClose }: { note: NonNullable<Note>; onClose: () => void }) {
	if ("fault" in note)
		return (
			<div class="next-note">
				<Notice sort="asks" role="alert">
					{note.fault}
				</Notice>
			</div>
		);
	const { code, owner } = note;
	if (owner.sort === "free") return null;
	return (
		<div class="next-note">
			<Notice sort="asks" role="alert">
				<p>
					<span class="notice-word">{shown(code)} is already used</span>, on {owner.name}.
				</p>
				<div class="buttons">
					<a class="button" href={owner.path}>
						Open {owner.name}
					</a>
					<button type="button" class="button" onClick={onClose}>
						Take another tag
					</button>
				</div>
			</Notice>
		</div>
	);
}

function TagSheet({ onTyped, onClose }: { onTyped: (code: string) => void; onClose: () => void }) {
	return (
		<Sheet title="Tag for this item" onClose={onClose}>
			<CodeEntry label="Type the code on the tag" button="Use it" onCode={onTyped} />
			{draft.value.code && (
				<div class="buttons">
					<button
						type="button"
						class="button button-wide"
						onClick={() => {
							setDraft({ code: null });
							onClose();
						}}
					>
						Take the next tag instead
					</button>
				</div>
			)}
		</Sheet>
	);
}
