/** The live camera: opened once a visit, a picture at a tap. */
import type { KeptPhoto } from "../storage/photos.ts";
import { CameraFault, PictureFault } from "./faults.ts";
import { shrinkBitmap } from "./shrink.ts";

export type { KeptPhoto } from "../storage/photos.ts";
export { CameraFault, PictureFault } from "./faults.ts";
export { shrink } from "./shrink.ts";

export interface Lens {
	readonly deviceId: string;
	readonly label: string;
}

export interface CameraHandle {
	readonly video: HTMLVideoElement;
	/** Null if this camera has no lamp that a page may switch. */
	readonly setTorch: ((on: boolean) => Promise<void>) | null;
	/** All cameras; phones may hand out one that can't focus near, so the person may change. */
	lenses(): Promise<readonly Lens[]>;
	use(deviceId: string): Promise<void>;
	/** Stop the camera; its lamp goes out. */
	close(): void;
}

const LENS_KEY = "shedtally.lens";

/** Open the camera that looks away from the person, into `video`. Throws CameraFault. */
export async function openCamera(video: HTMLVideoElement): Promise<CameraHandle> {
	let stream = await openStream(remembered());
	await show(video, stream);
	const stop = (): void => {
		for (const track of stream.getTracks()) track.stop();
	};
	return {
		video,
		get setTorch() {
			return torchOf(stream);
		},
		lenses,
		async use(deviceId) {
			stop();
			stream = await openStream(deviceId);
			remember(deviceId);
			await show(video, stream);
		},
		close() {
			stop();
			if (video.srcObject === stream) video.srcObject = null;
		},
	};
}

/** The picture that the camera shows now, shrunk and ready to keep. Throws PictureFault. */
export async function snap({ video }: CameraHandle): Promise<KeptPhoto> {
	if (video.readyState < HTMLMediaElement.HAVE_CURRENT_DATA || video.videoWidth === 0) {
		throw new PictureFault("no frame");
	}
	let bitmap: ImageBitmap;
	try {
		bitmap = await createImageBitmap(video);
	} catch {
		throw new PictureFault("no frame");
	}
	return shrinkBitmap(bitmap);
}

async function openStream(deviceId: string | null): Promise<MediaStream> {
	const devices = navigator.mediaDevices as MediaDevices | undefined;
	if (!devices?.getUserMedia) throw new CameraFault("not secure");
	const which = deviceId
		? { deviceId: { ideal: deviceId } }
		: { facingMode: { ideal: "environment" } };
	try {
		return await devices.getUserMedia({
			audio: false,
			video: { ...which, width: { ideal: 1_920 }, height: { ideal: 1_080 } },
		});
	} catch (error) {
		throw cameraFault(error);
	}
}

async function show(video: HTMLVideoElement, stream: MediaStream): Promise<void> {
	video.muted = true;
	video.playsInline = true;
	video.srcObject = stream;
	try {
		await video.play();
	} catch (error) {
		// A newer stream took its place while this one started.
		if (error instanceof DOMException && error.name === "AbortError") return;
		for (const track of stream.getTracks()) track.stop();
		throw new CameraFault("busy");
	}
}

function cameraFault(error: unknown): CameraFault {
	switch (error instanceof Error || error instanceof DOMException ? error.name : "") {
		case "NotAllowedError":
		case "SecurityError":
			return new CameraFault("refused");
		case "NotFoundError":
		case "OverconstrainedError":
			return new CameraFault("none");
		default:
			return new CameraFault("busy");
	}
}

function torchOf(stream: MediaStream): CameraHandle["setTorch"] {
	const [track] = stream.getVideoTracks();
	// Only the capabilities tell the truth; the list of supported constraints says yes to everyone.
	const can = track?.getCapabilities?.() as
		| (MediaTrackCapabilities & { torch?: boolean })
		| undefined;
	if (!track || can?.torch !== true) return null;
	return async (on) => {
		await track.applyConstraints({ advanced: [{ torch: on } as MediaTrackConstraintSet] });
	};
}

async function lenses(): Promise<readonly Lens[]> {
	const devices = await navigator.mediaDevices.enumerateDevices().catch(() => []);
	return devices
		.filter(({ kind, deviceId }) => kind === "videoinput" && deviceId !== "")
		.map(({ deviceId, label }, at) => ({ deviceId, label: label || `Camera ${at + 1}` }));
}

function remembered(): string | null {
	try {
		return localStorage.getItem(LENS_KEY);
	} catch {
		return null;
	}
}

function remember(deviceId: string): void {
	try {
		localStorage.setItem(LENS_KEY, deviceId);
	} catch {
		// Only a preference; the app works without it.
	}
}
