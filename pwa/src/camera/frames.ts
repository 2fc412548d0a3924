/** Frames of a video for decoding, and the phone's own decoder where it has one that works. */

export interface Frames {
	/** The picture now; null while the video shows none. */
	take(part: "centre" | "whole"): ImageData | null;
	/** What the phone's own decoder reads; empty without one. */
	readNatively(): Promise<readonly string[]>;
}

const MAX_EDGE_PX = 1_280;
const CENTRE_SHARE = 0.6;

interface NativeDetector {
	detect(source: HTMLVideoElement): Promise<readonly { rawValue: string }[]>;
}

interface NativeDetectorClass {
	new (options: { formats: string[] }): NativeDetector;
	getSupportedFormats(): Promise<readonly string[]>;
}

export function framesOf(video: HTMLVideoElement): Frames {
	const canvas = document.createElement("canvas");
	const context = canvas.getContext("2d", { willReadFrequently: true, alpha: false });
	const detector = nativeDetector();
	return {
		take(part) {
			const { videoWidth, videoHeight } = video;
			if (!context || videoWidth === 0 || video.readyState < 2) return null;
			const share = part === "centre" ? CENTRE_SHARE : 1;
			const [width, height] = [videoWidth * share, videoHeight * share];
			const scale = Math.min(1, MAX_EDGE_PX / Math.max(width, height));
			canvas.width = Math.round(width * scale);
			canvas.height = Math.round(height * scale);
			const [left, top] = [(videoWidth - width) / 2, (videoHeight - height) / 2];
			context.drawImage(video, left, top, width, height, 0, 0, canvas.width, canvas.height);
			return context.getImageData(0, 0, canvas.width, canvas.height);
		},
		async readNatively() {
			try {
				return ((await (await detector)?.detect(video)) ?? []).map(({ rawValue }) => rawValue);
			} catch {
				return [];
			}
		},
	};
}

/** Some phones offer the class without a decoder behind it, so it must name what it can read. */
async function nativeDetector(): Promise<NativeDetector | null> {
	const native = (globalThis as { BarcodeDetector?: NativeDetectorClass }).BarcodeDetector;
	if (!native) return null;
	try {
		const formats = await native.getSupportedFormats();
		return formats.includes("qr_code") ? new native({ formats: ["qr_code"] }) : null;
	} catch {
		return null;
	}
}
