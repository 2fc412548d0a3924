/** The pins in words, beside the picture: everything that a tap on it does, a key does here. */
import { itemName } from "../../domain/names.ts";
import { boat } from "../../storage/boat.ts";
import { rules } from "../../storage/rules.ts";
import { keepOrSay } from "../common/keeping.ts";
import { PATHS } from "../paths.ts";
import { type Pinned, type Spot, spotWords, within } from "./pins.ts";

interface Props {
	pins: readonly Pinned[];
	chosen: string | null;
	onChoose: (pin: string | null) => void;
	onMove: (pin: string, to: Spot) => Promise<void>;
	onFault: (fault: string | null) => void;
}

/** One press moves a pin by a fiftieth of the picture. */
const STEP = 0.02;
const MOVES = [
	["Left", -STEP, 0],
	["Right", STEP, 0],
	["Up", 0, -STEP],
	["Down", 0, STEP],
] as const;

export function PinList({ pins, chosen, onChoose, onMove, onFault }: Props) {
	if (pins.length === 0) return null;
	return (
		<section class="part">
			<h2>On this photograph</h2>
			<ol class="rows plain-list">
				{pins.map((pin) => (
					<Row
						key={pin.key}
						pin={pin}
						open={pin.key === chosen}
						onOpen={(open) => onChoose(open ? pin.key : null)}
						onMove={(to) => void onMove(pin.key, to)}
						onRemove={() => {
							void keepOrSay([{ table: "pin", key: pin.key, set: { binned: true } }]).then(onFault);
							onChoose(null);
						}}
					/>
				))}
			</ol>
		</section>
	);
}

interface RowProps {
	pin: Pinned;
	open: boolean;
	onOpen: (open: boolean) => void;
	onMove: (to: Spot) => void;
	onRemove: () => void;
}

function Row({ pin, open, onOpen, onMove, onRemove }: RowProps) {
	const item = boat.table("item").value.get(pin.item);
	const name = item ? itemName(item, rules.value) : "An item that is not here";
	return (
		<li class="row pin-open">
			<span class="pin-number">{pin.number}</span>
			<a class="row-main pin-item" href={PATHS.item(pin.item)}>
				<span class="row-title">{name}</span>
				<span class="row-under">{spotWords(pin)}</span>
			</a>
			<button
				type="button"
				class="button"
				aria-expanded={open}
				aria-label={`Change pin ${pin.number}, ${name}`}
				onClick={() => onOpen(!open)}
			>
				{open ? "Done" : "Change"}
			</button>
			{open && (
				<fieldset class="pin-part">
					<legend class="spoken">Pin of {name}</legend>
					<div class="pin-moves">
						{MOVES.map(([word, x, y]) => (
							<button
								key={word}
								type="button"
								class="button"
								onClick={() => onMove(within({ x: pin.x + x, y: pin.y + y }))}
							>
								{word}
							</button>
						))}
					</div>
					<button type="button" class="button button-quiet" onClick={onRemove}>
						Remove this pin; the item stays listed
					</button>
				</fieldset>
			)}
		</li>
	);
}
