/** One photograph: a tap sets a pin, a second tap says what it is; the list moves and removes. */
import { useState } from "preact/hooks";
import type { Photo } from "../../domain/contract.ts";
import { itemName } from "../../domain/names.ts";
import { pathOf } from "../../domain/tree.ts";
import { boat, newKey } from "../../storage/boat.ts";
import { rules } from "../../storage/rules.ts";
import { Notice } from "../../ui/Notice.tsx";
import { go } from "../../ui/router.ts";
import { Screen } from "../../ui/Screen.tsx";
import { count } from "../../ui/words.ts";
import { keepOrSay } from "../common/keeping.ts";
import { PATHS } from "../paths.ts";
import { kindName } from "../walkRound/likely.ts";
import { PinList } from "./PinList.tsx";
import { PinnedPicture } from "./PinnedPicture.tsx";
import { MIDDLE, pinAt, pinEdits, pinsOn, type Spot } from "./pins.ts";
import { WhatIsHere } from "./WhatIsHere.tsx";

interface Last {
	readonly words: string;
	/** What takes it back: the pin, and the item if the tap listed it. */
	readonly undo: readonly (readonly ["pin" | "item", string])[];
}

export function PinScreen({ photoKey }: { photoKey: string }) {
	const photo = boat.table("photo").value.get(photoKey);
	if (!photo?.sha256)
		return (
			<Screen title="No such photograph on this phone" backTo={PATHS.walkRound}>
				<p>It may be in the bin, or another phone took it and has not sent it yet.</p>
			</Screen>
		);
	return <Pins photo={photo} />;
}

function Pins({ photo }: { photo: Photo }) {
	const [spot, setSpot] = useState<Spot | null>(null);
	const [chosen, setChosen] = useState<string | null>(null);
	const [last, setLast] = useState<Last | null>(null);
	const [fault, setFault] = useState<string | null>(null);
	const pins = pinsOn(photo.key);
	const compartment = compartmentOf(photo);
	const name = pathOf(boat.table("compartment").value, compartment).at(-1) ?? "Photograph";
	const tap = (at: Spot, wide: number, high: number): void => {
		const near = pinAt(pins, at, wide, high);
		if (near && near.key !== chosen) setChosen(near.key);
		else if (chosen) void move(chosen, at);
		else setSpot(at);
	};
	const move = async (pin: string, to: Spot): Promise<void> =>
		setFault(await keepOrSay([{ table: "pin", key: pin, set: to }]));
	const pin = async (item: string | null, kind: string | null): Promise<void> => {
		const [pinKey, itemKey] = [newKey(), item ?? newKey()];
		const listed = item ? null : { kind, compartment, whereabouts: "aboard" as const };
		const why = await keepOrSay(pinEdits(pinKey, photo.key, itemKey, spot ?? MIDDLE, listed));
		setFault(why);
		setSpot(null);
		if (why) return;
		const known = boat.table("item").value.get(itemKey);
		const what = known ? itemName(known, rules.value) : kindName(kind ?? "");
		setLast({
			words: `${what}: pinned, kept on this phone.`,
			undo: [["pin", pinKey], ...(item ? [] : [["item", itemKey] as const])],
		});
	};
	const undo = async (of: Last): Promise<void> => {
		const edits = of.undo.map(([table, key]) => ({ table, key, set: { binned: true } }));
		const why = await keepOrSay(edits);
		setFault(why);
		if (!why) setLast(null);
	};
	const back = compartment ? `${PATHS.walkRound}?in=${compartment}` : PATHS.walkRound;
	return (
		<Screen title={name} under={`Photograph with ${count(pins.length, "pin")}`} backTo={back}>
			<PinnedPicture
				photo={photo}
				pins={pins}
				marked={chosen}
				label={
					chosen
						? "Photograph: tap where the chosen pin belongs"
						: `Photograph of ${name}: tap an item to pin it`
				}
				onTap={tap}
			/>
			<div aria-live="polite" class="walk-last">
				{last ? (
					<>
						<span>{last.words}</span>
						<button type="button" class="button" onClick={() => void undo(last)}>
							Undo
						</button>
					</>
				) : (
					<span class="pencil">
						{chosen
							? "Tap where the chosen pin belongs, or move it below."
							: "Tap an item on the photograph, then say what it is."}
					</span>
				)}
			</div>
			{fault && (
				<Notice sort="asks" role="alert">
					{fault}
				</Notice>
			)}
			<PinList pins={pins} chosen={chosen} onChoose={setChosen} onMove={move} onFault={setFault} />
			<div class="buttons">
				<button type="button" class="button" onClick={() => setSpot(MIDDLE)}>
					Pin without tapping
				</button>
				<button
					type="button"
					class="button button-quiet"
					onClick={() =>
						void keepOrSay([{ table: "photo", key: photo.key, set: { binned: true } }]).then(
							(why) => (why ? setFault(why) : go(back, { replace: true })),
						)
					}
				>
					Put this photograph in the bin
				</button>
			</div>
			{spot && (
				<WhatIsHere
					compartment={compartment}
					pinned={new Set(pins.map(({ item }) => item))}
					onItem={(item) => void pin(item, null)}
					onKind={(kind) => void pin(null, kind)}
					onClose={() => setSpot(null)}
				/>
			)}
		</Screen>
	);
}

/** The compartment that a photograph shows, or that its item sat in. */
function compartmentOf(photo: Photo): string | null {
	const [table, key = ""] = (photo.of ?? "").split("/");
	if (table === "compartment") return key;
	if (table === "item") return boat.table("item").value.get(key)?.compartment ?? null;
	return null;
}
