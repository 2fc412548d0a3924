/** Every run of cable with its verdict, reckoned on the phone; the server prints it. */
import { isAc, isCircuit } from "../../domain/circuit.ts";
import type { Item, WireSizing } from "../../domain/contract.ts";
import { itemName } from "../../domain/names.ts";
import { sizeWire } from "../../domain/wireSize.ts";
import { boat } from "../../storage/boat.ts";
import { rules } from "../../storage/rules.ts";
import { Growing } from "../../ui/Growing.tsx";
import { Cautions, Notice } from "../../ui/Notice.tsx";
import { Screen } from "../../ui/Screen.tsx";
import { count } from "../../ui/words.ts";
import { asFixed } from "../order/lines.ts";
import { PATHS } from "../paths.ts";
import { takes, Verdict } from "./WirePart.tsx";

interface Circuit {
	readonly item: Item;
	readonly name: string;
	readonly sizing: WireSizing;
}

export function Circuits() {
	const found = circuitsOf();
	const failing = found.filter(({ sizing }) => failsOf(sizing)).length;
	const [standing = "", ...cautions] = rules.value?.wiring?.cautions ?? [];
	const base = `/api/boats/${boat.key.value}/lists/circuits`;
	return (
		<Screen
			title="Circuits"
			under={
				found.length === 0
					? "No run of cable is written down yet."
					: `${count(found.length, "run")} of cable; ${failing === 0 ? "none has" : `${failing} ${failing === 1 ? "has" : "have"}`} a wire that fails its load.`
			}
			backTo={PATHS.renewals}
		>
			<div class="part-tight">
				{standing && <Notice sort="danger">{standing}</Notice>}
				<Cautions of={cautions} />
			</div>
			<div class="rows">
				<Growing of={found}>{(one) => <Row key={one.item.key} {...one} />}</Growing>
			</div>
			<section class="part">
				<h2>Print</h2>
				<div class="buttons">
					<a class="button" href={`${base}.pdf`} target="_blank" rel="noreferrer">
						Circuits and parts (PDF)
					</a>
					<a class="button" href={`${base}.csv`} download="circuits.csv">
						Table (CSV)
					</a>
				</div>
				<p class="part-note">The server prints, so this needs a connection to it.</p>
			</section>
		</Screen>
	);
}

function Row({ item, name, sizing }: Circuit) {
	return (
		<a class="row" href={PATHS.wire(item.key)}>
			<span class="row-main">
				<span class="row-title">{name}</span>
				<span class="row-under">
					{item.size ? `Was ${item.size}. ` : ""}
					{takes(sizing)}
					{item.new_size ? ` Taken: ${item.new_size}.` : ""}
				</span>
				<Verdict sizing={sizing} />
			</span>
		</a>
	);
}

/** What fails first, then by name. */
function circuitsOf(): Circuit[] {
	const wiring = rules.value?.wiring;
	if (!wiring) return [];
	return [...boat.table("item").value.values()]
		.filter((item) => isCircuit(item, rules.value))
		.map((item) => ({
			item,
			name: itemName(item, rules.value),
			sizing: sizeWire(asFixed(item), isAc(item, rules.value), wiring),
		}))
		.sort((a, b) => rank(a.sizing) - rank(b.sizing) || a.name.localeCompare(b.name));
}

function failsOf({ old, taken }: WireSizing): boolean {
	return ((taken ?? old)?.fails.length ?? 0) > 0;
}

function rank(sizing: WireSizing): number {
	if (failsOf(sizing)) return 0;
	return sizing.amps > 0 ? 2 : 1;
}
