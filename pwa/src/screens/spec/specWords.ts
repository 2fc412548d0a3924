/** What a person fixed for a line, in the sentences that the server prints, from this phone's record. */
import type { Spec } from "../../domain/contract.ts";
import type { RenewalRules } from "../../domain/renewalRules.ts";
import { sentence } from "../../ui/words.ts";

export function fixedWords(spec: Spec | null, rules: RenewalRules | null): string[] {
	if (!spec) return [];
	const service = rules?.services.find(({ id }) => id === spec.service);
	const said = [
		spec.service && `For ${(service?.name ?? spec.service).toLowerCase()}`,
		spec.standard && `Asked for: ${spec.standard}`,
		spec.size && `Size ${spec.size}`,
		spec.bore_mm && `Inside ${spec.bore_mm} mm`,
		spec.outside_mm && `Outside ${spec.outside_mm} mm`,
		spec.material && `Made of ${spec.material}`,
		threadWords(spec, rules),
		spec.clamps_each_end !== null && `Clamps at each end: ${spec.clamps_each_end}`,
		cableWords(spec),
		spec.allowance !== null &&
			`${Number((spec.allowance * 100).toFixed(1))} % more than it measures`,
		spec.each_end_mm !== null && `${spec.each_end_mm} mm more for each end`,
		spec.bought_as && "Bought as another line",
	];
	return said.filter((one): one is string => Boolean(one)).map((one) => `${one}.`);
}

function threadWords(spec: Spec, rules: RenewalRules | null): string {
	const family = rules?.threads.find(({ id }) => id === spec.thread_family);
	const name = family?.name ?? spec.thread_family ?? "";
	const words = [name, spec.thread_size].filter(Boolean).join(" ");
	return words && `Thread ${words}${family ? `, tight ${family.tight}` : ""}`;
}

function cableWords(spec: Spec): string {
	const parts = [
		spec.conductor,
		(spec.cores ?? 1) > 1 && `${spec.cores} cores`,
		spec.tinned !== null && (spec.tinned ? "tinned" : "not tinned"),
		spec.sheathed !== null && (spec.sheathed ? "sheathed" : "single"),
		spec.insulation_c && `insulation for ${spec.insulation_c} °C`,
		spec.colour,
	];
	return sentence(parts.filter(Boolean).join(", "));
}
