/** The frame round every screen, and which screen belongs to which address. */
import "./ui/index.css";
import { useEffect } from "preact/hooks";
import { Banners } from "./screens/frame/Banners.tsx";
import { Destinations } from "./screens/frame/Destinations.tsx";
import { keepUpWithServer } from "./screens/frame/keepUp.ts";
import { Standing } from "./screens/frame/Standing.tsx";
import { Lost } from "./screens/frame/Warnings.tsx";
import { screenFor } from "./screens/screenFor.tsx";
import { lostStorage } from "./storage/danger.ts";
import { address, startRouter } from "./ui/router.ts";

startRouter();

export function App() {
	useEffect(() => {
		// Leaving the field keeps what was typed; a phone that puts the app away does not leave it.
		const leaveField = (): void => {
			if (document.visibilityState === "hidden" && document.activeElement instanceof HTMLElement)
				document.activeElement.blur();
		};
		document.addEventListener("visibilitychange", leaveField);
		return () => document.removeEventListener("visibilitychange", leaveField);
	}, []);
	useEffect(() => keepUpWithServer(), []);
	const { path } = address.value;
	const { screen, bare } = screenFor(path);
	if (bare)
		return (
			<div class="frame frame-bare">
				{lostStorage.value ? <Lost /> : <div class="banner-none" />}
				{screen}
			</div>
		);
	return (
		<div class="frame">
			<Standing path={path} />
			<Banners path={path} />
			{screen}
			<Destinations path={path} />
		</div>
	);
}
