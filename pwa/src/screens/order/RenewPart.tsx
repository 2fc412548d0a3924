/** On the screen of an item: that it is bought new, under which line, and what stands in its place. */
import { newPartOf } from "../../domain/buying.ts";
import type { Item } from "../../domain/contract.ts";
import { codesOn, itemName } from "../../domain/names.ts";
import { shown } from "../../domain/tag.ts";
import { boat } from "../../storage/boat.ts";
import { rules } from "../../storage/rules.ts";
import { Code } from "../../ui/Tag.tsx";
import { PATHS } from "../paths.ts";
import { lineOfItem, shortSpec, stateOn } from "./lines.ts";

export function RenewPart({ item }: { item: Item }) {
	const items = boat.table("item").value;
	const old = item.replaces ? items.get(item.replaces) : undefined;
	if (old)
		return (
			<section class="part">
				<h2>New, in the place of</h2>
				<Other item={old} />
			</section>
		);
	const line = lineOfItem(item);
	const part = newPartOf(items, item.key);
	if (!line && !part && item.fate !== "renew") return null;
	return (
		<section class="part">
			<h2>Bought new</h2>
			{part ? (
				<>
					<p class="part-note">Its new part is here, with its own tag:</p>
					<Other item={part} />
				</>
			) : (
				<p class="part-note">
					{line
						? `On the order as ${shortSpec(line)}: ${stateOn(line)}.`
						: "It comes onto the order with the next answer of the server."}
				</p>
			)}
			<div class="buttons">
				{line && (
					<a class="button" href={PATHS.spec(line.id)}>
						Say what to buy
					</a>
				)}
				{line && (
					<a class="button" href={PATHS.orderLine(line.id)}>
						Prices and steps
					</a>
				)}
				{!part && (
					<a class="button" href={PATHS.newPart(item.key)}>
						The new part is here
					</a>
				)}
			</div>
		</section>
	);
}

function Other({ item }: { item: Item }) {
	const [code] = codesOn(boat.table("tag").value, `item/${item.key}`);
	return (
		<p>
			<a href={PATHS.item(item.key)}>{itemName(item, rules.value)}</a>{" "}
			{code && <Code>{shown(code)}</Code>}
		</p>
	);
}
