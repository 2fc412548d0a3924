/** What is known of an item, as a short table; what is not known is left out. */
import type { Item } from "../../domain/contract.ts";
import { kindOf, systemOf } from "../../domain/names.ts";
import { boat } from "../../storage/boat.ts";
import { rules } from "../../storage/rules.ts";
import { length, sentence } from "../../ui/words.ts";
import { placeWords } from "../common/whereItStands.ts";
import { PATHS } from "../paths.ts";

export function Facts({ item }: { item: Item }) {
	const facts = factsOf(item).filter(([, value]) => value !== "");
	return (
		<section class="part">
			<h2>What it is</h2>
			{facts.length === 0 ? (
				<p class="part-note">
					Only photographed so far. <a href={PATHS.editItem(item.key)}>Fill in the rest</a>
				</p>
			) : (
				<dl class="facts">
					{facts.map(([name, value]) => (
						<Fact key={name} name={name} value={value} />
					))}
				</dl>
			)}
		</section>
	);
}

function Fact({ name, value }: { name: string; value: string }) {
	return (
		<>
			<dt>{name}</dt>
			<dd>{value}</dd>
		</>
	);
}

/** The tag above says what it lies in itself; here stands where that is. */
function standsIn({ container, place }: Item): string {
	const nested = boat.table("place").value.get(place ?? "")?.within;
	return container || nested ? placeWords(place) : "";
}

function serviceName({ service }: Item): string {
	const known = rules.value?.renewal?.services.find(({ id }) => id === service);
	return known?.name ?? service ?? "";
}

function factsOf(item: Item): [string, string][] {
	const kind = kindOf(item, rules.value);
	const system = systemOf(item, rules.value);
	return [
		["Kind", kind?.name ?? ""],
		["System", rules.value?.systems.find(({ id }) => id === system)?.name ?? system ?? ""],
		["Number", item.count && item.count > 1 ? `${item.count} pieces` : ""],
		["Stands in", standsIn(item)],
		["Fastened", item.fastened ?? ""],
		["Size", item.size ?? ""],
		["Thread", item.thread ?? ""],
		["Flows in it", serviceName(item)],
		["Measures", measures(item)],
		[
			"Material",
			rules.value?.materials.find(({ id }) => id === item.material)?.name ?? item.material ?? "",
		],
		["Holds", item.volume_l === null ? "" : `${item.volume_l} L`],
		["Battery", battery(item)],
		["Soaked in", item.soaked_in ?? ""],
		["Tests", tests(item)],
		["Note", item.note ?? ""],
	];
}

function measures(item: Item): string {
	const { length_mm, width_mm, height_mm, thickness_mm } = item;
	return [
		length_mm === null ? "" : `${length(length_mm)} long`,
		width_mm === null ? "" : `${length(width_mm)} wide`,
		height_mm === null ? "" : `${length(height_mm)} high`,
		thickness_mm === null ? "" : `${length(thickness_mm)} thick`,
	]
		.filter((part) => part !== "")
		.join(", ");
}

function battery(item: Item): string {
	return [
		item.capacity_ah === null ? "" : `${item.capacity_ah} Ah`,
		item.voltage_v === null ? "" : `${item.voltage_v} V`,
		item.leaking === null ? "" : item.leaking ? "leaking" : "not leaking",
	]
		.filter(Boolean)
		.join(", ");
}

function tests(item: Item): string {
	const parts = [
		item.lead && `lead ${item.lead}`,
		item.asbestos && `asbestos ${item.asbestos}`,
		item.flash_point_c === null ? "" : `flash point ${item.flash_point_c} °C`,
	];
	return sentence(parts.filter(Boolean).join(", "));
}
