/** Several cans from one tank: each is an item of its own, kept at once; a tag can follow. */
import { useState } from "preact/hooks";
import type { Item, Tank } from "../../domain/contract.ts";
import { itemName } from "../../domain/names.ts";
import { boat, newKey } from "../../storage/boat.ts";
import { rules } from "../../storage/rules.ts";
import { FigureField } from "../../ui/FigureField.tsx";
import { Notice } from "../../ui/Notice.tsx";
import { day } from "../../ui/words.ts";
import { figureOf } from "../common/figure.ts";
import { keepOrSay } from "../common/keeping.ts";
import { PATHS } from "../paths.ts";
import { canEdits } from "./canEdits.ts";

/** More than a person carries or a drum holds is a slip of the finger. */
const MOST_LITRES = 1_000;

export function FillCan({ item, tank }: { item: Item; tank: Tank }) {
	const [typed, setTyped] = useState("");
	const [said, setSaid] = useState<{ words: string; fault: boolean } | null>(null);
	const liquid = rules.value?.liquids?.find(({ id }) => id === tank.liquid) ?? null;
	const cans = [...boat.table("item").value.values()]
		.filter(({ drawn_from }) => drawn_from === item.key)
		.sort((a, b) => (a.out_at ?? "").localeCompare(b.out_at ?? ""));
	const litres = figureOf(typed, 0.1, MOST_LITRES);
	const keep = async (event: Event): Promise<void> => {
		event.preventDefault();
		if (litres.value === null) {
			const words = litres.why ?? "Write how many litres are in the can.";
			return setSaid({ words, fault: true });
		}
		const what = liquid?.name ?? "Liquid";
		const can = {
			key: newKey(),
			name: `${what}, can ${cans.length + 1} from ${itemName(item, rules.value)}`,
			litres: litres.value,
			at: new Date().toISOString(),
		};
		const fault = await keepOrSay(canEdits(can, item, liquid));
		if (fault) return setSaid({ words: `Not kept: ${fault}`, fault: true });
		setSaid({
			words: `${can.litres} L kept on this phone as can ${cans.length + 1}.`,
			fault: false,
		});
		setTyped("");
	};
	return (
		<section class="part">
			<h2>Fill a can from it</h2>
			<form onSubmit={(event) => void keep(event)}>
				<FigureField
					label="Litres in the can"
					large
					value={typed}
					why={litres.why}
					hint="What is in it, not what it holds."
					onType={setTyped}
				/>
				<div class="buttons">
					<button type="submit" class="button button-main button-wide button-hot">
						Keep this can
					</button>
				</div>
			</form>
			{said && (
				<Notice sort={said.fault ? "asks" : "done"} role={said.fault ? "alert" : "status"}>
					{said.words}
				</Notice>
			)}
			<div class="rows">
				{cans.map((can) => (
					<a class="row" key={can.key} href={PATHS.item(can.key)}>
						<span class="row-main">
							<span class="row-title">{itemName(can, rules.value)}</span>
							<span class="row-under">
								{can.volume_l === null ? "litres not written" : `${can.volume_l} L`}
								{can.out_at ? `, ${day(new Date(can.out_at))}` : ", no day"}
							</span>
						</span>
					</a>
				))}
			</div>
		</section>
	);
}
