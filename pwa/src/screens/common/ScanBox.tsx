/** A camera picture in a page, looking for one tag. */
import { useEffect, useRef, useState } from "preact/hooks";
import { Notice } from "../../ui/Notice.tsx";
import { readCode } from "./CodeEntry.tsx";
import { type CameraState, Scanner } from "./Scanner.tsx";

interface Props {
	onCode: (code: string) => void;
	onClose: () => void;
}

export function ScanBox({ onCode, onClose }: Props) {
	const [camera, setCamera] = useState<CameraState>({ is: "opening" });
	const [fault, setFault] = useState<string | null>(null);
	const seen = (text: string): void => {
		const read = readCode(text);
		if ("fault" in read) setFault(read.fault);
		else {
			setFault(null);
			navigator.vibrate?.(60);
			onCode(read.code);
		}
	};
	// Opened by a button low on the screen, the picture would begin below its edge.
	const box = useRef<HTMLDivElement>(null);
	useEffect(() => box.current?.scrollIntoView({ block: "nearest" }), []);
	return (
		<div ref={box}>
			<div class="scan-box">
				<Scanner scanning onCode={seen} onCamera={setCamera} />
				<p class="scan-word">{WORDS[camera.is]}</p>
			</div>
			{camera.is === "refused" && <Notice sort="asks">{camera.why} Type the code instead.</Notice>}
			{fault && (
				<Notice sort="asks" role="alert">
					{fault}
				</Notice>
			)}
			<button type="button" class="button button-wide" onClick={onClose}>
				Stop scanning
			</button>
		</div>
	);
}

const WORDS = {
	opening: "Opening the camera",
	open: "Hold the tag inside the frame",
	refused: "No camera picture",
} as const;
