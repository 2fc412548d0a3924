/** What a new pin is: an item that is listed here and has none yet, or a kind, by one tap. */
import { itemName } from "../../domain/names.ts";
import { kindsFor } from "../../domain/search.ts";
import { boat } from "../../storage/boat.ts";
import { rules } from "../../storage/rules.ts";
import { Sheet } from "../../ui/Sheet.tsx";
import { Suggest } from "../../ui/Suggest.tsx";
import { aboardIn, kindName, likelyHere, recentKinds } from "../walkRound/likely.ts";

interface Props {
	compartment: string | null;
	/** Items that have a pin on this photograph. */
	pinned: ReadonlySet<string>;
	onItem: (item: string) => void;
	onKind: (kind: string) => void;
	onClose: () => void;
}

export function WhatIsHere({ compartment, pinned, onItem, onKind, onClose }: Props) {
	const listed = compartment ? aboardIn(compartment).filter(({ key }) => !pinned.has(key)) : [];
	const likely = likelyHere(boat.table("compartment").value.get(compartment ?? "")?.name ?? "");
	const kinds = likely.map(([kind]) => kind);
	const recent = recentKinds(new Set(kinds));
	return (
		<Sheet title="What is it?" onClose={onClose}>
			{listed.length > 0 && <h3>Listed here, not pinned yet</h3>}
			<div class="walk-kinds">
				{listed.map((item) => (
					<button
						key={item.key}
						type="button"
						class="button button-hot walk-kind"
						onClick={() => onItem(item.key)}
					>
						{itemName(item, rules.value)}
					</button>
				))}
			</div>
			{kinds.length > 0 && <h3>New: usually here</h3>}
			<Kinds of={kinds} onKind={onKind} />
			{recent.length > 0 && <h3>New: listed last</h3>}
			<Kinds of={recent} onKind={onKind} />
			<Suggest
				label="Another kind"
				value=""
				offersFor={(text) =>
					kindsFor(rules.value?.kinds ?? [], text, 6).map(({ id, name }) => ({ id, label: name }))
				}
				onPick={({ id }) => onKind(id)}
				onText={() => {}}
			/>
		</Sheet>
	);
}

function Kinds({ of, onKind }: { of: readonly string[]; onKind: (kind: string) => void }) {
	return (
		<div class="walk-kinds">
			{of.map((kind) => (
				<button
					key={kind}
					type="button"
					class="button button-hot walk-kind"
					onClick={() => onKind(kind)}
				>
					{kindName(kind)}
				</button>
			))}
		</div>
	);
}
