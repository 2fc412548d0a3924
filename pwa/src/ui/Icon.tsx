/** The few icons, drawn for this app at one stroke width. They always stand beside their word. */
const PATHS = {
	camera: "M3 7h5l2-3h4l2 3h5v13H3zM12 9.5a4 4 0 1 0 0 8 4 4 0 0 0 0-8z",
	find: "M10.5 4a6.5 6.5 0 1 0 0 13 6.5 6.5 0 0 0 0-13zM15.5 15.5 21 21",
	lists: "M4 6h2M10 6h10M4 12h2M10 12h10M4 18h2M10 18h10",
	boat: "M12 2.5C16 7 17 11 17 15c0 2.5-.6 4.5-1.5 6.5h-7C7.6 19.5 7 17.5 7 15c0-4 1-8 5-12.5zM7.1 14h9.8",
	back: "M14.5 5 7.5 12l7 7",
	scan: "M4 9V4h5M15 4h5v5M20 15v5h-5M9 20H4v-5M4 12h16",
	print: "M7 8V3h10v5M7 17H3V8h18v9h-4M7 14h10v7H7z",
	undo: "M8 5 4 9l4 4M4 9h10a6 6 0 0 1 0 12H8",
	add: "M12 5v14M5 12h14",
	close: "M6 6l12 12M18 6 6 18",
	file: "M4 5h16v14H4zM4 16l5-5 4 4 2.5-2.5L20 17M15.5 8.5h.01",
} as const;

export type IconName = keyof typeof PATHS;

export function Icon({ name }: { name: IconName }) {
	return (
		<svg class="icon" viewBox="0 0 24 24" aria-hidden="true">
			<path d={PATHS[name]} />
		</svg>
	);
}
