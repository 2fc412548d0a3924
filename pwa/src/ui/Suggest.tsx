/** A text field that offers words while a person types; an offer is one tap, typing on is allowed. */
import { useEffect, useId, useState } from "preact/hooks";

export interface Offer {
	id: string;
	label: string;
	under?: string;
}

interface Props {
	label: string;
	value: string;
	hint?: string;
	offersFor: (text: string) => readonly Offer[];
	onPick: (offer: Offer) => void;
	/** What was typed and left without picking an offer. */
	onText: (text: string) => void;
}

export function Suggest({ label, value, hint, offersFor, onPick, onText }: Props) {
	const id = useId();
	const [text, setText] = useState(value);
	const [open, setOpen] = useState(false);
	const [at, setAt] = useState(-1);
	useEffect(() => setText(value), [value]);
	const offers = open ? offersFor(text) : [];
	const pick = (offer: Offer): void => {
		setText(offer.label);
		setOpen(false);
		onPick(offer);
	};
	const onKeyDown = (event: KeyboardEvent): void => {
		if (event.key === "ArrowDown") setAt(Math.min(at + 1, offers.length - 1));
		else if (event.key === "ArrowUp") setAt(Math.max(at - 1, -1));
		else if (event.key === "Escape") setOpen(false);
		else if (event.key === "Enter") {
			const offer = offers[at];
			if (offer) pick(offer);
			else onText(text.trim());
		} else return;
		if (event.key !== "Enter") event.preventDefault();
	};
	return (
		<div class="field">
			<label class="field-label" for={id}>
				{label}
			</label>
			<input
				id={id}
				class="input"
				type="text"
				role="combobox"
				autoComplete="off"
				aria-expanded={offers.length > 0}
				aria-controls={`${id}-offers`}
				aria-autocomplete="list"
				aria-activedescendant={offers[at] ? `${id}-${at}` : undefined}
				value={text}
				onFocus={() => setOpen(true)}
				onInput={(event) => {
					setText(event.currentTarget.value);
					setOpen(true);
					setAt(-1);
				}}
				onKeyDown={onKeyDown}
				onBlur={() => {
					setOpen(false);
					if (text.trim() !== value.trim()) onText(text.trim());
				}}
			/>
			<div
				id={`${id}-offers`}
				class={offers.length > 0 ? "offers" : ""}
				role="listbox"
				aria-label={`Words for ${label.toLowerCase()}`}
			>
				{offers.map((offer, index) => (
					<button
						key={offer.id}
						id={`${id}-${index}`}
						type="button"
						class="offer"
						role="option"
						tabIndex={-1}
						aria-selected={index === at}
						// Before the field loses the focus, so that the offer is still there to be tapped.
						onPointerDown={(event) => event.preventDefault()}
						onClick={() => pick(offer)}
					>
						<span>{offer.label}</span>
						{offer.under && <span class="small pencil">{offer.under}</span>}
					</button>
				))}
			</div>
			{hint && <p class="field-hint">{hint}</p>}
		</div>
	);
}
