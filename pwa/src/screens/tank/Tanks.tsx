/** Every tank that was described: what is still in it, and paper to hang beside it. */
import { itemName } from "../../domain/names.ts";
import { boat } from "../../storage/boat.ts";
import { rules } from "../../storage/rules.ts";
import { lists } from "../../sync/lists.ts";
import { Cautions } from "../../ui/Notice.tsx";
import { Screen } from "../../ui/Screen.tsx";
import { ago } from "../../ui/words.ts";
import { PATHS } from "../paths.ts";

export function Tanks() {
	const aged = lists.value.tanks;
	const items = boat.table("item").value;
	const tanks = [...boat.table("tank").value.values()];
	const base = `/api/boats/${boat.key.value}/lists`;
	return (
		<Screen title="Tanks" under={aged ? madeWords(aged.madeAt) : undefined} backTo={PATHS.boat}>
			<Cautions of={aged ? [...aged.list.cautions, aged.list.standing] : []} />
			<div class="rows">
				{tanks.map((tank) => {
					const item = items.get(tank.of ?? "");
					const line = aged?.list.tanks.find(({ key }) => key === tank.key);
					return item ? (
						<a class="row" key={tank.key} href={PATHS.tank(item.key)}>
							<span class="row-main">
								<span class="row-title">{itemName(item, rules.value)}</span>
								<span class="row-under">
									{line?.still_in
										? `${Math.round(line.still_in.likely)} L still in, ${Math.round(line.still_in.low)} to ${Math.round(line.still_in.high)} L`
										: "What is in it is not known yet"}
								</span>
							</span>
						</a>
					) : null;
				})}
			</div>
			{tanks.length === 0 && (
				<div class="empty">
					<h2>No tank is described yet</h2>
					<p>Open the tank's item and tap “Describe its inside”.</p>
				</div>
			)}
			<section class="part">
				<h2>Print</h2>
				<div class="buttons">
					<a class="button" href={`${base}/tanks.pdf`} target="_blank" rel="noreferrer">
						The tanks (PDF)
					</a>
					<a class="button" href={`${base}/dip-tables.pdf`} target="_blank" rel="noreferrer">
						Dip tables (PDF)
					</a>
					<a class="button" href={`${base}/tanks.csv`} download="tanks.csv">
						Table (CSV)
					</a>
				</div>
				<p class="part-note">The server prints, so this needs a connection to it.</p>
			</section>
		</Screen>
	);
}

function madeWords(madeAt: string): string {
	return `Worked out by the server ${ago(Date.parse(madeAt), Date.now())}.`;
}
