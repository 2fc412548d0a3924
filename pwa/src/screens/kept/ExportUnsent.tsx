/** The way out when the server is gone: unsent work as one file. */
import { useState } from "preact/hooks";
import { exportUnsent } from "../../sync/export.ts";
import { Notice } from "../../ui/Notice.tsx";

export function ExportUnsent() {
	const [fault, setFault] = useState<string | null>(null);
	const save = async (): Promise<void> => {
		setFault(null);
		try {
			offer(await exportUnsent(), `shedtally-unsent-${new Date().toISOString().slice(0, 10)}.json`);
		} catch (error) {
			setFault(error instanceof Error ? error.message : String(error));
		}
	};
	return (
		<>
			<div class="buttons">
				<button type="button" class="button button-wide" onClick={() => void save()}>
					Save what is unsent as a file
				</button>
			</div>
			{fault && (
				<Notice sort="danger" word="No file was made" role="alert">
					{fault}
				</Notice>
			)}
		</>
	);
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
