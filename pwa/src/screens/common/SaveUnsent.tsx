/** The way out when the server is gone or has shut this phone out: its work as one file. */
import { useState } from "preact/hooks";
import { rescueFile } from "../../sync/rescue.ts";
import { session } from "../../sync/session.ts";
import { Notice } from "../../ui/Notice.tsx";
import { size } from "../../ui/words.ts";

export function SaveUnsent({ main = false }: { main?: boolean }) {
	const [said, setSaid] = useState<string | null>(null);
	const [fault, setFault] = useState<string | null>(null);
	const save = async (): Promise<void> => {
		setFault(null);
		try {
			const file = await rescueFile();
			const name = fileName(session.value.deviceName, new Date());
			offer(file, name);
			setSaid(`${name}, ${size(file.size)}, is given to the phone to save.`);
		} catch (error) {
			setFault(error instanceof Error ? error.message : String(error));
		}
	};
	return (
		<>
			<div class="buttons">
				<button
					type="button"
					class={`button button-wide${main ? " button-main" : ""}`}
					onClick={() => void save()}
				>
					Save this phone's work as a file
				</button>
			</div>
			{said && (
				<Notice sort="done" role="status">
					{said} An owner brings it in under Boat, Phones; bringing it in twice does no harm. It
					stays on this phone too.
				</Notice>
			)}
			{fault && (
				<Notice sort="danger" word="No file was made" role="alert">
					{fault}
				</Notice>
			)}
		</>
	);
}

/** `shedtally-unsent-ms-phone-2026-05-04.zip` */
function fileName(phone: string, at: Date): string {
	const plain = phone
		.toLowerCase()
		.replaceAll(/[^a-z0-9]+/g, "-")
		.replaceAll(/^-+|-+$/g, "");
	const parts = ["shedtally-unsent", plain, at.toISOString().slice(0, 10)];
	return `${parts.filter(Boolean).join("-")}.zip`;
}

function offer(file: Blob, name: string): void {
	const url = URL.createObjectURL(file);
	const link = document.createElement("a");
	link.href = url;
	link.download = name;
	link.click();
	// The browser reads the address after the click; give it time.
	setTimeout(() => URL.revokeObjectURL(url), 60_000);
}
