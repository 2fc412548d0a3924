/** The shutter, the full width of the screen; without a camera it opens the phone's own. */
import { useState } from "preact/hooks";
import type { CameraHandle } from "../../camera/capture.ts";
import { Icon } from "../../ui/Icon.tsx";
import type { CameraState } from "../common/Scanner.tsx";
import { DraftFileButton } from "./DraftFileButton.tsx";

interface Props {
	camera: CameraState;
	onShutter: (handle: CameraHandle) => Promise<void>;
	onFile: (file: File) => Promise<void>;
}

export function Shutter({ camera, onShutter, onFile }: Props) {
	const [busy, setBusy] = useState(false);
	const run = (work: () => Promise<void>): void => {
		if (busy) return;
		setBusy(true);
		void work().finally(() => setBusy(false));
	};
	const label = busy ? "Keeping" : "Photograph and keep";
	if (camera.is === "refused")
		return (
			<div class="shutter-row">
				<DraftFileButton
					class="button button-main shutter"
					onFile={(file) => run(() => onFile(file))}
				>
					<Icon name="file" /> {label}
				</DraftFileButton>
			</div>
		);
	const handle = camera.is === "open" ? camera.handle : null;
	return (
		<div class="shutter-row">
			<button
				type="button"
				class="button button-main shutter"
				aria-disabled={handle === null}
				onClick={() => {
					if (handle) run(() => onShutter(handle));
				}}
			>
				<span class="shutter-ring" aria-hidden="true" />
				{handle ? label : "Opening the camera"}
			</button>
		</div>
	);
}
