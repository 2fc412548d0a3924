/** A tank of each shape as a line drawing, with the letters that its size fields carry. */
import type { Tank } from "../../domain/contract.ts";
import "./tank.css";

type Shape = NonNullable<Tank["shape"]>;
type Letter = readonly [text: string, x: number, y: number];

interface Drawn {
	readonly wall: string;
	readonly sizes: string;
	readonly letters: readonly Letter[];
	readonly says: string;
}

/** A box's far edges behind a front face; the length runs back to the right. */
const BACK = "M30 60 L90 24 H250 L190 60 M250 24";

const DRAWN: Readonly<Record<Shape, Drawn>> = {
	box: {
		wall: `${BACK} V104 L190 140 M30 60 H190 V140 H30 Z`,
		sizes: "M30 154 H190 M14 60 V140 M206 142 L262 108",
		letters: [
			["B", 110, 172],
			["H", 8, 104],
			["L", 246, 138],
		],
		says: "A box: B across, H high, L long",
	},
	wedge: {
		wall: `${BACK} L210 104 L150 140 M30 60 H190 L150 140 H70 Z`,
		sizes: "M30 48 H80 M70 154 H150 M14 60 V140 M206 142 L262 108",
		letters: [
			["B", 110, 52],
			["C", 110, 172],
			["H", 8, 104],
			["L", 246, 138],
		],
		says: "A wedge: B across the top, C across the floor, H high, L long",
	},
	"v-bottom": {
		wall: `${BACK} V64 L190 100 M250 64 L172 106 M30 60 H190 V100 L110 140 L30 100 Z`,
		sizes: "M14 60 V140 M206 100 V140 M110 140 H206 M214 142 L262 108",
		letters: [
			["B", 110, 80],
			["H", 8, 104],
			["V", 218, 128],
			["L", 254, 134],
		],
		says: "A box over a V: B across, H high over all, V the height of the V, L long",
	},
	"lying cylinder": {
		wall: "M60 40 H220 M60 120 H220 M60 40 A18 40 0 0 0 60 120 M220 40 A18 40 0 0 1 220 120",
		sizes: "M60 140 H220 M20 40 V120 M220 140 H238",
		letters: [
			["D", 10, 86],
			["L", 140, 158],
			["A", 232, 158],
		],
		says: "A lying cylinder: D across, L long without the ends, A the depth of a dished end",
	},
	"standing cylinder": {
		wall: "M90 44 V124 M190 44 V124 M90 44 A50 14 0 0 1 190 44 M90 124 A50 14 0 0 0 190 124 M90 44 H190 M90 124 H190",
		sizes: "M90 160 H190 M70 44 V124 M206 124 V138",
		letters: [
			["D", 140, 176],
			["L", 60, 90],
			["A", 218, 136],
		],
		says: "A standing cylinder: D across, L high without the ends, A the depth of a dished end",
	},
	"dip table": {
		wall: "M60 30 H220 V150 H60 Z M60 60 H220 M60 90 H220 M60 120 H220 M120 30 V150",
		sizes: "",
		letters: [
			["mm", 90, 50],
			["litres", 170, 50],
		],
		says: "A table of levels and litres",
	},
};

export function ShapeDrawing({ shape }: { shape: Shape }) {
	const { wall, sizes, letters, says } = DRAWN[shape];
	return (
		<svg class="tank-drawing" viewBox="0 0 280 184" role="img" aria-label={says}>
			<path d={wall} />
			{sizes && <path class="tank-size" d={sizes} />}
			{letters.map(([text, x, y]) => (
				<text key={text} x={x} y={y}>
					{text}
				</text>
			))}
		</svg>
	);
}
