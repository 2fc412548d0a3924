/** The compartments of the boat as a tree, and on the drawing. */
import { useState } from "preact/hooks";
import type { Compartment } from "../../domain/contract.ts";
import { flatten, ringsWithin } from "../../domain/tree.ts";
import { boat, newKey } from "../../storage/boat.ts";
import { BoatDrawing } from "../../ui/BoatDrawing.tsx";
import { Notice } from "../../ui/Notice.tsx";
import { go } from "../../ui/router.ts";
import { Screen } from "../../ui/Screen.tsx";
import { drawnPlaces, hullOf } from "../common/drawn.ts";
import { keepOrSay } from "../common/keeping.ts";
import { NameForm } from "../common/NameForm.tsx";
import { PATHS } from "../paths.ts";

export function Compartments() {
	const [fault, setFault] = useState<string | null>(null);
	const hull = hullOf();
	const rows = flatten(boat.table("compartment").value, byStation);
	const add = async (name: string): Promise<void> => {
		const key = newKey();
		setFault(await keepOrSay([{ table: "compartment", key, set: { name } }]));
	};
	return (
		<Screen title="Compartments" backTo={PATHS.boat}>
			{hull && (
				<BoatDrawing
					hull={hull}
					places={drawnPlaces()}
					label="The boat from above and from the side, with its compartments as listed below"
					onTap={(key) => go(PATHS.compartment(key))}
				/>
			)}
			{ringsWithin(boat.table("compartment").value).map((ring) => (
				<Notice key={ring.map(({ key }) => key).join()} sort="asks" word="A ring">
					{[...ring, ring[0]].map((node) => node?.name ?? "unnamed").join(" lies in ")}. Nothing in
					them is lost: open one of them and say what it lies in.
				</Notice>
			))}
			<NameForm
				label="Add a compartment"
				button="Add"
				fault={fault}
				onName={(name) => void add(name)}
			/>
			<div class="rows part">
				{rows.length === 0 && (
					<p class="row pencil">None yet. Begin from the bow: forepeak, fore cabin, saloon.</p>
				)}
				{rows.map(({ node, depth }) => (
					<a
						key={node.key}
						class="row pick-row"
						data-depth={Math.min(depth, 4)}
						href={PATHS.compartment(node.key)}
					>
						<span class="row-main">
							<span class={depth === 0 ? "row-title" : ""}>{node.name ?? "unnamed"}</span>
							<span class="row-under">{lies(node)}</span>
						</span>
					</a>
				))}
			</div>
		</Screen>
	);
}

/** `port, 3.2 to 4.6 m`; empty while not measured. */
export function lies({ side, level, from_m, to_m }: Compartment): string {
	const station = from_m === null || to_m === null ? "" : `${from_m} to ${to_m} m`;
	return [side ?? "", level && level !== "cabin" ? level : "", station].filter(Boolean).join(", ");
}

export function byStation(a: Compartment, b: Compartment): number {
	const first = (a.from_m ?? 1000) - (b.from_m ?? 1000);
	return first || (a.name ?? "").localeCompare(b.name ?? "", "en-GB", { numeric: true });
}
