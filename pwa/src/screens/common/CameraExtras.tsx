/** The lamp, and another lens where the phone handed out one that can't focus near. */
import { useEffect, useState } from "preact/hooks";
import type { CameraHandle, Lens } from "../../camera/capture.ts";

export function CameraExtras({ handle }: { handle: CameraHandle }) {
	const [lit, setLit] = useState(false);
	const [lenses, setLenses] = useState<readonly Lens[]>([]);
	const [at, setAt] = useState(0);
	useEffect(() => {
		void handle.lenses().then(setLenses);
	}, [handle]);
	const other = async (): Promise<void> => {
		const next = (at + 1) % lenses.length;
		const lens = lenses[next];
		if (!lens) return;
		setAt(next);
		setLit(false);
		await handle.use(lens.deviceId).catch(() => {});
	};
	const torch = handle.setTorch;
	return (
		<div class="camera-extras">
			{torch && (
				<button
					type="button"
					class="button"
					aria-pressed={lit}
					onClick={() => {
						void torch(!lit).then(() => setLit(!lit));
					}}
				>
					Lamp
				</button>
			)}
			{lenses.length > 1 && (
				<button type="button" class="button" onClick={() => void other()}>
					Other camera
				</button>
			)}
		</div>
	);
}
