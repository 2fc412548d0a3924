/** What lies where it may not, as the server sees it, and who said that it does all the same. */
import { liftedIf } from "../../domain/apart.ts";
import type { Ban, Mixing } from "../../domain/contract.ts";
import { itemName } from "../../domain/names.ts";
import { boat } from "../../storage/boat.ts";
import { rules } from "../../storage/rules.ts";
import { Notice } from "../../ui/Notice.tsx";
import { stopped } from "../../ui/words.ts";

interface Props {
	bans: readonly Ban[];
	mixings: readonly Mixing[];
}

export function Mixed({ bans, mixings }: Props) {
	const told = new Set(bans.map(({ item }) => item));
	const only = mixings.filter(({ item }) => !told.has(item ?? ""));
	return (
		<>
			{bans.map((ban) => (
				<Notice key={ban.item} sort="danger" word="Mixed">
					“{ban.name}” lies in “{ban.container}”, beside {ban.beside.toLowerCase()}. {ban.why}
					{ban.only_if && ` ${liftedIf(ban)}`}
					<p class="small">
						{ban.who
							? `Recorded by ${ban.who}: ${stopped(ban.reason)}`
							: "Nobody said why: take it out."}{" "}
						Source: {ban.sources.join("; ")}.
					</p>
				</Notice>
			))}
			{only.map((row) => (
				<Notice key={row.key} sort="danger" word="Mixed">
					“{nameOf(row)}” was put in against the rules. Recorded by {row.who}:{" "}
					{stopped(row.why ?? "")}
				</Notice>
			))}
		</>
	);
}

function nameOf(row: Mixing): string {
	const item = boat.table("item").value.get(row.item ?? "");
	return item ? itemName(item, rules.value) : "Something that is not on this phone";
}
