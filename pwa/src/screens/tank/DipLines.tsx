/** The tank's own dip table, line by line; the last, empty line makes a new one. */
import type { DipMark, Tank } from "../../domain/contract.ts";
import { boat, newKey } from "../../storage/boat.ts";
import { keepOrSay } from "../common/keeping.ts";
import { NumberField } from "./NumberField.tsx";

export function DipLines({ tank }: { tank: Tank }) {
	const rows = [...boat.table("dipmark").value.values()]
		.filter((mark) => mark.tank === tank.key)
		.sort((a, b) => (a.level_mm ?? Infinity) - (b.level_mm ?? Infinity));
	return (
		<>
			{rows.map((mark) => (
				<Line key={mark.key} mark={mark} />
			))}
			<button
				type="button"
				class="button button-wide"
				onClick={() =>
					void keepOrSay([{ table: "dipmark", key: newKey(), set: { tank: tank.key } }])
				}
			>
				Add a line
			</button>
		</>
	);
}

function Line({ mark }: { mark: DipMark }) {
	const set = (values: Partial<DipMark>): void => {
		void keepOrSay([{ table: "dipmark", key: mark.key, set: values }]);
	};
	return (
		<div class="pair-of-fields">
			<NumberField
				label="Level, mm"
				value={mark.level_mm}
				onKeep={(level_mm) => set({ level_mm })}
			/>
			<NumberField
				label="Litres"
				value={mark.volume_l}
				high={100_000}
				onKeep={(volume_l) => set({ volume_l })}
			/>
		</div>
	);
}
