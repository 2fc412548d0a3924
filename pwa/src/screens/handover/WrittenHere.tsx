/** What went, from this phone's own records, until the server's frozen list has come. */
import { itemName } from "../../domain/names.ts";
import { boat } from "../../storage/boat.ts";
import { rules } from "../../storage/rules.ts";
import { itemsIn, streamName } from "../boxes/boxWords.ts";

export function WrittenHere({ handover }: { handover: string }) {
	const boxes = [...boat.table("container").value.values()].filter(
		(box) => box.handover === handover,
	);
	const loose = [...boat.table("item").value.values()].filter((row) => row.handover === handover);
	return (
		<div class="rows">
			{boxes.map((box) => (
				<div class="row" key={box.key}>
					<span class="row-main">
						<span class="row-title">{box.name ?? "Container without a name"}</span>
						<span class="row-under">{streamName(box.stream)}</span>
						{itemsIn(box.key).map((item) => (
							<span class="row-under" key={item.key}>
								{itemName(item, rules.value)}
							</span>
						))}
					</span>
				</div>
			))}
			{loose.map((item) => (
				<div class="row" key={item.key}>
					<span class="row-main">
						<span class="row-title">{itemName(item, rules.value)}</span>
						<span class="row-under">loose</span>
					</span>
				</div>
			))}
		</div>
	);
}
