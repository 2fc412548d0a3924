/** One sounding: how, the level on a big pad, the rest if it is known. What can't be stays as typed. */
import { useRef, useState } from "preact/hooks";
import type { Sounding, Tank } from "../../domain/contract.ts";
import { refusedSounding } from "../../domain/sounding.ts";
import { newKey } from "../../storage/boat.ts";
import { Choice } from "../../ui/Choice.tsx";
import { Notice } from "../../ui/Notice.tsx";
import { keepOrSay } from "../common/keeping.ts";
import { NumberField } from "./NumberField.tsx";

type Draft = Partial<Omit<Sounding, "key" | "binned" | "tank" | "on">>;

const HOW = [
	{ value: "dip", label: "Dip" },
	{ value: "ullage", label: "Ullage" },
	{ value: "sight", label: "Sight glass" },
] as const;

const HINTS = {
	dip: "The wet length of the stick.",
	ullage: "From the mark down to the liquid.",
	sight: "From the tank's lowest point up to the level.",
} as const;

export function SoundIt({ tank }: { tank: Tank }) {
	const [draft, setDraft] = useState<Draft>({ how: "dip" });
	const [round, setRound] = useState(0);
	const [said, setSaid] = useState<{ words: string; fault: boolean } | null>(null);
	// The button reads what was typed at the tap, before the screen was drawn again.
	const typed = useRef<Draft>(draft);
	const part = useRef<HTMLElement>(null);
	const put = (values: Draft): void => {
		typed.current = values;
		setDraft(values);
	};
	const set = (values: Draft): void => put({ ...typed.current, ...values });
	const keepIt = async (): Promise<void> => {
		if (document.activeElement instanceof HTMLElement) document.activeElement.blur();
		// A field that can't be read marks itself when it is drawn again.
		await new Promise((drawn) => setTimeout(drawn));
		const unread = part.current?.querySelector("[aria-invalid=true]");
		const refused = unread
			? "Not kept: a number above can't be read, see what stands under it."
			: refusedSounding(tank, typed.current);
		if (refused) {
			setSaid({ words: refused, fault: true });
			return;
		}
		const row = { ...typed.current, tank: tank.key, on: new Date().toISOString() };
		const why = await keepOrSay([{ table: "sounding", key: newKey(), set: row }]);
		setSaid({ words: why ?? "Kept on this phone. The server works out the litres.", fault: !!why });
		if (why) return;
		put({ how: row.how ?? "dip" });
		setRound(round + 1);
	};
	return (
		<section class="part" key={round} ref={part}>
			<h2>Sound it</h2>
			<Choice
				name="how"
				legend="How"
				options={HOW}
				value={draft.how ?? "dip"}
				onChange={(how) => set({ how })}
			/>
			<NumberField
				label="Level, mm"
				value={draft.level_mm ?? null}
				hint={HINTS[draft.how ?? "dip"]}
				onKeep={(level_mm) => set({ level_mm })}
			/>
			<details>
				<summary>
					<span class="row-main">Sludge, temperature, how the boat stands</span>
				</summary>
				<NumberField
					label="Sludge, mm"
					value={draft.sludge_mm ?? null}
					onKeep={(sludge_mm) => set({ sludge_mm })}
				/>
				<NumberField
					label="Temperature, °C"
					low={-60}
					high={150}
					value={draft.temperature_c ?? null}
					onKeep={(temperature_c) => set({ temperature_c })}
				/>
				<NumberField
					label="Density at 15 °C, kg/m3"
					low={1}
					high={25_000}
					value={draft.density_kg_m3 ?? null}
					onKeep={(density_kg_m3) => set({ density_kg_m3 })}
				/>
				<NumberField
					label="Bow up, degrees"
					low={-45}
					high={45}
					value={draft.bow_up_deg ?? null}
					onKeep={(bow_up_deg) => set({ bow_up_deg })}
				/>
				<NumberField
					label="Starboard down, degrees"
					low={-45}
					high={45}
					value={draft.starboard_down_deg ?? null}
					onKeep={(starboard_down_deg) => set({ starboard_down_deg })}
				/>
			</details>
			<div class="buttons">
				<button
					type="button"
					class="button button-main button-wide button-hot"
					onClick={() => void keepIt()}
				>
					Keep the sounding
				</button>
			</div>
			{said && (
				<Notice sort={said.fault ? "danger" : "done"} role={said.fault ? "alert" : "status"}>
					{said.words}
				</Notice>
			)}
		</section>
	);
}
