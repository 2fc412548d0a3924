/** A photograph with pins on it; the words for them stand beside it, so the marks are silent. */
import type { Photo } from "../../domain/contract.ts";
import { usePhoto } from "../common/photos.tsx";
import { MIDDLE, type Pinned, type Spot } from "./pins.ts";
import "./pins.css";

interface Props {
	photo: Photo;
	pins: readonly Pinned[];
	/** What the picture is called, pins included. */
	label: string;
	/** The pin that stands out. */
	marked?: string | null;
	/** Without it the picture is only looked at. */
	onTap?: (spot: Spot, wide: number, high: number) => void;
}

export function PinnedPicture({ photo, pins, label, marked = null, onTap }: Props) {
	const url = usePhoto(photo.sha256, "full");
	const picture = (
		<img
			src={url ?? undefined}
			alt={onTap ? "" : label}
			width={photo.width ?? undefined}
			height={photo.height ?? undefined}
		/>
	);
	return (
		<div class="pinned">
			{onTap ? (
				<button
					type="button"
					class="pinned-button"
					aria-label={label}
					onClick={(event) => onTap(...tapped(event))}
				>
					{picture}
				</button>
			) : (
				picture
			)}
			{pins.map((pin) => (
				<span
					key={pin.key}
					class={pin.key === marked ? "pin pin-marked" : "pin"}
					style={{ left: `${pin.x * 100}%`, top: `${pin.y * 100}%` }}
					aria-hidden="true"
				>
					{pin.number}
				</span>
			))}
		</div>
	);
}

function tapped(event: {
	readonly currentTarget: HTMLElement;
	readonly clientX: number;
	readonly clientY: number;
	readonly detail: number;
}): [spot: Spot, wide: number, high: number] {
	const { left, top, width, height } = event.currentTarget.getBoundingClientRect();
	// A key has no place on the picture: it sets the pin in the middle, from where it is moved.
	if (event.detail === 0) return [MIDDLE, width, height];
	return [{ x: (event.clientX - left) / width, y: (event.clientY - top) / height }, width, height];
}
