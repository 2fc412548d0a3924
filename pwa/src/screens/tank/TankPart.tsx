/** On the screen of an item that is a tank: the way to its inside. */
import type { Item } from "../../domain/contract.ts";
import { kindOf } from "../../domain/names.ts";
import { boat } from "../../storage/boat.ts";
import { rules } from "../../storage/rules.ts";
import { PATHS } from "../paths.ts";

export function TankPart({ item }: { item: Item }) {
	const described = [...boat.table("tank").value.values()].some(({ of }) => of === item.key);
	const holds = kindOf(item, rules.value)?.prompts.includes("volume_l") ?? false;
	if (!described && !holds) return null;
	return (
		<section class="part">
			<h2>What is in it</h2>
			<div class="buttons">
				<a class="button" href={PATHS.tank(item.key)}>
					{described ? "Sound the tank" : "Describe its inside"}
				</a>
			</div>
		</section>
	);
}
