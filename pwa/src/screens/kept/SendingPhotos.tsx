/** How far the photographs are on their way, in bytes; and why they wait, where they do. */
import { setSendPhotosOn } from "../../storage/settings.ts";
import { type SyncState, syncNow } from "../../sync/state.ts";
import { Meter } from "../../ui/Meter.tsx";
import { Notice } from "../../ui/Notice.tsx";
import { size } from "../../ui/words.ts";

export function SendingPhotos({ state }: { state: SyncState }) {
	const { photoBytesSent, photoBytesTotal, unsentPhotos, unsentBytes, pausedForMetered } = state;
	if (unsentPhotos === 0) return null;
	if (pausedForMetered)
		return (
			<Notice sort="asks" word="Photographs wait for Wi-Fi">
				<p>
					This line costs money, as the phone says. Edits go out all the same; {size(unsentBytes)}{" "}
					of photographs wait.
				</p>
				<div class="buttons">
					<button type="button" class="button" onClick={() => void sendNow()}>
						Send photographs over mobile data
					</button>
				</div>
			</Notice>
		);
	if (photoBytesTotal === 0) return null;
	return (
		<Meter share={photoBytesSent / photoBytesTotal} label="Photographs sent">
			{`${size(photoBytesSent)} of ${size(photoBytesTotal)} of photographs sent`}
		</Meter>
	);
}

/** Stands until it is set back under Storage. */
async function sendNow(): Promise<void> {
	await setSendPhotosOn("any");
	await syncNow();
}
