/**
 * One sounding: how, the level on a big pad, the rest if it is known. Keeping comes first: what
 * can't be is kept as typed, and the screen says why it gives no litres and waits to be put right.
 */
import { useRef, useState } from "preact/hooks";
import type { Sounding, Tank } from "../../domain/contract.ts";
import { refusedSounding } from "../../domain/sounding.ts";
import { boat, newKey } from "../../storage/boat.ts";
import { rules } from "../../storage/rules.ts";
import { Choice } from "../../ui/Choice.tsx";
import { FigureField } from "../../ui/FigureField.tsx";
import { Notice } from "../../ui/Notice.tsx";
import { clock } from "../../ui/words.ts";
import { type Figure, figureOf, unreadNote } from "../common/figure.ts";
import { keepOrSay } from "../common/keeping.ts";

type Name =
	| "level_mm"
	| "sludge_mm"
	| "temperature_c"
	| "density_kg_m3"
	| "bow_up_deg"
	| "starboard_down_deg";

interface Asked {
	readonly name: Name;
	readonly label: string;
	readonly low: number;
	readonly high: number;
}

const LEVEL: Asked = { name: "level_mm", label: "Level, mm", low: 0, high: 50_000 };
const MORE: readonly Asked[] = [
	{ name: "sludge_mm", label: "Sludge, mm", low: 0, high: 50_000 },
	{ name: "temperature_c", label: "Temperature, °C", low: -60, high: 150 },
	{ name: "density_kg_m3", label: "Density at 15 °C, kg/m3", low: 1, high: 25_000 },
	{ name: "bow_up_deg", label: "Bow up, degrees", low: -45, high: 45 },
	{ name: "starboard_down_deg", label: "Starboard down, degrees", low: -45, high: 45 },
];

const HOW = [
	{ value: "dip", label: "Dip" },
	{ value: "ullage", label: "Ullage" },
	{ value: "sight", label: "Sight glass" },
] as const;

type How = NonNullable<Sounding["how"]>;

const HINTS: Readonly<Record<How, string>> = {
	dip: "The wet length of the stick.",
	ullage: "From the mark down to the liquid.",
	sight: "From the tank's lowest point up to the level.",
};

type Said = { readonly words: string; readonly fault: boolean } | null;

export function SoundIt({ tank }: { tank: Tank }) {
	const [how, setHow] = useState<How>("dip");
	const [typed, setTyped] = useState<Partial<Record<Name, string>>>({});
	const [said, setSaid] = useState<Said>(null);
	const key = useRef(newKey());
	const liquid = rules.value?.liquids?.find(({ id }) => id === tank.liquid) ?? null;
	const read = ({ name, low, high }: Asked): Figure => figureOf(typed[name] ?? "", low, high);

	const keep = async (event: Event): Promise<void> => {
		event.preventDefault();
		const figures = [LEVEL, ...MORE].map((asked) => ({ name: asked.name, ...read(asked) }));
		const values = Object.fromEntries(figures.map(({ name, value }) => [name, value]));
		const row = { how, ...values, note: unreadNote(figures) };
		const of = { tank: tank.key, on: new Date().toISOString() };
		const fault = await keepOrSay([
			{ table: "sounding", key: key.current, set: { ...row, ...of, binned: null } },
		]);
		if (fault) return setSaid({ words: `Not kept: ${fault}`, fault: true });
		const unread = figures.find(({ why }) => why !== null)?.why;
		const why =
			unread ?? refusedSounding(tank, row, liquid, [...boat.table("dipmark").value.values()]);
		if (why)
			return setSaid({
				words: `Kept as you typed it, but it gives no litres yet: ${why}`,
				fault: true,
			});
		setSaid({ words: `Kept on this phone, ${clock(new Date())}.`, fault: false });
		key.current = newKey();
		setTyped({});
	};
	const field = (asked: Asked, hint?: string) => (
		<FigureField
			key={asked.name}
			label={asked.label}
			large={asked === LEVEL}
			signed={asked.low < 0}
			hint={hint}
			value={typed[asked.name] ?? ""}
			why={read(asked).why}
			onType={(text) => setTyped({ ...typed, [asked.name]: text })}
		/>
	);
	return (
		<section class="part">
			<h2>Sound it</h2>
			<form onSubmit={(event) => void keep(event)}>
				<Choice
					name="how"
					legend="How"
					options={HOW}
					value={how}
					onChange={(next) => setHow(next ?? "dip")}
				/>
				{field(LEVEL, HINTS[how])}
				<details>
					<summary>
						<span class="row-main">Sludge, temperature, how the boat stands</span>
					</summary>
					{MORE.map((asked) => field(asked))}
				</details>
				<div class="buttons">
					<button type="submit" class="button button-main button-wide button-hot">
						Keep the sounding
					</button>
				</div>
			</form>
			{said && (
				<Notice sort={said.fault ? "asks" : "done"} role={said.fault ? "alert" : "status"}>
					{said.words}
				</Notice>
			)}
			{said?.fault && boat.table("sounding").value.has(key.current) && (
				<button
					type="button"
					class="button"
					onClick={() =>
						void keepOrSay([{ table: "sounding", key: key.current, set: { binned: true } }]).then(
							(fault) => setSaid(fault ? { words: fault, fault: true } : null),
						)
					}
				>
					Put this sounding in the bin
				</button>
			)}
		</section>
	);
}
