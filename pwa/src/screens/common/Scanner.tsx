/** The live camera picture, and the codes of tags seen in it while scanning is on. */
import { useEffect, useRef, useState } from "preact/hooks";
import { type CameraHandle, openCamera } from "../../camera/capture.ts";
import { startScan, warmUp } from "../../camera/scan.ts";
import "./scanner.css";

export type CameraState =
	| { readonly is: "opening" }
	| { readonly is: "open"; readonly handle: CameraHandle }
	| { readonly is: "refused"; readonly why: string };

interface Props {
	scanning: boolean;
	onCode: (code: string) => void;
	onCamera?: (state: CameraState) => void;
}

/** One stream as long as it is shown; stopped while the page is hidden, so that the lamp goes out. */
export function Scanner({ scanning, onCode, onCamera }: Props) {
	const video = useRef<HTMLVideoElement>(null);
	const heard = useRef(onCode);
	heard.current = onCode;
	const [camera, setCamera] = useState<CameraState>({ is: "opening" });
	useEffect(() => follow(video.current, setCamera), []);
	useEffect(() => onCamera?.(camera), [camera]);
	useEffect(() => {
		if (!scanning || camera.is !== "open" || !video.current) return;
		void warmUp();
		return startScan(video.current, (code) => heard.current(code));
	}, [scanning, camera]);
	return (
		<>
			<video ref={video} class="camera-video" muted playsInline aria-label="Camera picture" />
			{scanning && camera.is === "open" && <span class="camera-frame" aria-hidden="true" />}
		</>
	);
}

function follow(
	video: HTMLVideoElement | null,
	set: (state: CameraState) => void,
): (() => void) | undefined {
	if (!video) return undefined;
	let handle: CameraHandle | null = null;
	let over = false;
	const open = async (): Promise<void> => {
		set({ is: "opening" });
		try {
			const opened = await openCamera(video);
			if (over || document.visibilityState === "hidden") opened.close();
			else {
				handle = opened;
				set({ is: "open", handle });
			}
		} catch (error) {
			set({ is: "refused", why: error instanceof Error ? error.message : String(error) });
		}
	};
	const close = (): void => {
		handle?.close();
		handle = null;
	};
	const onVisible = (): void => {
		if (document.visibilityState === "hidden") close();
		else if (!handle) void open();
	};
	document.addEventListener("visibilitychange", onVisible);
	void open();
	return () => {
		over = true;
		document.removeEventListener("visibilitychange", onVisible);
		close();
	};
}
