/** What can be wrong with a picture or a camera, in words for the person. */

export type PictureProblem =
	| "empty"
	| "unreadable"
	| "no picture"
	| "cut off"
	| "too large"
	| "heic"
	| "no memory"
	| "no frame";

const PICTURE: Readonly<Record<PictureProblem, string>> = {
	empty:
		"This file is empty, so there is no picture in it. Nothing was kept. Choose it again, or take the picture again.",
	unreadable:
		"This file could not be read; it may have been moved or deleted meanwhile. Nothing was kept. Choose it again.",
	"no picture":
		"This file is not a picture that can be read. Nothing was kept. Choose a JPEG, PNG or WebP picture, or take one here.",
	"cut off":
		"This picture is damaged: it ends too early or can't be decoded. Nothing was kept. Copy it again from where it came, or take it again.",
	"too large":
		"This picture has more than 100 megapixels, more than a phone can hold. Nothing was kept. Choose a smaller copy, or take one here.",
	heic: "This browser can't read HEIC pictures. Nothing was kept. Set the camera to JPEG (most compatible), or take the picture here.",
	"no memory":
		"The phone has too little memory free for this picture. Nothing was kept. Close other apps and try again.",
	"no frame":
		"The camera showed no picture at that moment. Nothing was kept. Wait until you see the picture, then try again.",
};

/** A picture that can't be kept; `problem` for programs, the message for the person. */
export class PictureFault extends Error {
	override readonly name = "PictureFault";
	readonly problem: PictureProblem;
	constructor(problem: PictureProblem) {
		super(PICTURE[problem]);
		this.problem = problem;
	}
}

export type CameraProblem = "not secure" | "none" | "refused" | "busy";

const CAMERA: Readonly<Record<CameraProblem, string>> = {
	"not secure":
		"The camera works only over https. Everything else works: take the picture with the phone's camera and choose the file here, or open the address of the setup page.",
	none: "No camera was found on this device. Choose a picture file instead.",
	refused:
		"The browser was not allowed to use the camera. Allow it in the settings of this site, or choose a picture file instead.",
	busy: "The camera is in use by another app or did not start. Close the other app and try again, or choose a picture file instead.",
};

/** The camera can't be used; `problem` for programs, the message for the person. */
export class CameraFault extends Error {
	override readonly name = "CameraFault";
	readonly problem: CameraProblem;
	constructor(problem: CameraProblem) {
		super(CAMERA[problem]);
		this.problem = problem;
	}
}
