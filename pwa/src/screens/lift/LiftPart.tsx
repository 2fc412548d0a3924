/** On the screen of an item: the way to its lifts, and what it is lifted with. */
import type { Item } from "../../domain/contract.ts";
import { boat } from "../../storage/boat.ts";
import { PATHS } from "../paths.ts";
import { BoltedPart } from "./BoltedPart.tsx";
import { startLift } from "./start.ts";

export function LiftPart({ item }: { item: Item }) {
	const lifts = [...boat.table("lift").value.values()].filter(({ of }) => of === item.key);
	return (
		<section class="part">
			<h2>Lifting</h2>
			<div class="buttons">
				{lifts.map((lift) => (
					<a class="button" key={lift.key} href={PATHS.lift(lift.key)}>
						{lift.name ?? "The lift"}
					</a>
				))}
				<button type="button" class="button" onClick={() => void startLift(item.key)}>
					Plan a lift
				</button>
			</div>
			<BoltedPart item={item} />
		</section>
	);
}
