/** A QR code drawn here, so that nothing of what it says leaves the phone. */
import { useEffect, useState } from "preact/hooks";

const QUIET = 4;

export function QrPicture({ text, label }: { text: string; label: string }) {
	const [path, setPath] = useState<{ d: string; size: number } | null>(null);
	useEffect(() => {
		let wanted = true;
		// Only the invitation draws one, so the encoder is not part of the first load.
		void import("qr").then(({ encodeQR }) => {
			if (wanted) setPath(pathOf(encodeQR(text, "raw", { ecc: "medium", border: QUIET })));
		});
		return () => {
			wanted = false;
		};
	}, [text]);
	if (!path) return null;
	return (
		<svg class="qr" viewBox={`0 0 ${path.size} ${path.size}`} role="img" aria-label={label}>
			<rect width={path.size} height={path.size} fill="#ffffff" />
			<path d={path.d} fill="#000000" shape-rendering="crispEdges" />
		</svg>
	);
}

function pathOf(rows: readonly (readonly boolean[])[]): { d: string; size: number } {
	const squares = rows.flatMap((row, y) =>
		row.map((dark, x) => (dark ? `M${x} ${y}h1v1h-1z` : "")),
	);
	return { d: squares.join(""), size: rows.length };
}
