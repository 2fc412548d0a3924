/** Whether the line costs money, as far as the phone says; many (all from Apple) never do. */
import { settings } from "../storage/settings.ts";

interface Connection extends EventTarget {
	readonly saveData?: boolean;
	readonly type?: string;
}

let anyway = false;

/** True while photographs are to wait for a line that costs nothing. */
export function mustWait(): boolean {
	return settings.value.sendPhotosOn === "wifi" && !anyway && isMetered();
}

/** Don't wait, until `waitAgain`. */
export function goAnyway(): void {
	anyway = true;
}

export function waitAgain(): void {
	anyway = false;
}

/** Call `changed` when the phone changes to another line. */
export function onOtherLine(changed: () => void): void {
	connection()?.addEventListener?.("change", changed);
}

function isMetered(): boolean {
	const line = connection();
	return line?.saveData === true || line?.type === "cellular";
}

function connection(): Connection | undefined {
	return (navigator as Navigator & { connection?: Connection }).connection;
}
