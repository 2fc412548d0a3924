/** Photographs of a compartment, to pin on what is in it; a new one opens at once. */
import { useState } from "preact/hooks";
import { shrink } from "../../camera/shrink.ts";
import type { Compartment, Photo } from "../../domain/contract.ts";
import { newKey } from "../../storage/boat.ts";
import { Icon } from "../../ui/Icon.tsx";
import { Notice } from "../../ui/Notice.tsx";
import { go } from "../../ui/router.ts";
import { count } from "../../ui/words.ts";
import { FileButton } from "../common/FileButton.tsx";
import { keepOrSay } from "../common/keeping.ts";
import { photosOf, usePhoto } from "../common/photos.tsx";
import { PATHS } from "../paths.ts";
import { pinsOn } from "../pins/pins.ts";
import { photoFields } from "../takeOut/edits.ts";

export function ShootIt({ compartment }: { compartment: Compartment }) {
	const [fault, setFault] = useState<string | null>(null);
	const target = `compartment/${compartment.key}`;
	const shoot = async (file: File): Promise<void> => {
		setFault(null);
		try {
			const picture = await shrink(file);
			const key = newKey();
			const set = photoFields(target, picture, new Date().toISOString());
			const why = await keepOrSay([{ table: "photo", key, set }], [picture]);
			setFault(why);
			if (!why) go(PATHS.photo(key));
		} catch (error) {
			setFault(error instanceof Error ? error.message : String(error));
		}
	};
	return (
		<>
			<FileButton
				class="button button-main button-wide button-hot"
				onFile={(file) => void shoot(file)}
			>
				<Icon name="camera" /> Photograph and pin
			</FileButton>
			{fault && (
				<Notice sort="asks" role="alert">
					{fault}
				</Notice>
			)}
			<div class="walk-photos">
				{photosOf(target).map((photo, at) => (
					<Tile key={photo.key} photo={photo} number={at + 1} />
				))}
			</div>
		</>
	);
}

function Tile({ photo, number }: { photo: Photo; number: number }) {
	const url = usePhoto(photo.sha256, "thumbnail");
	const pins = count(pinsOn(photo.key).length, "pin");
	return (
		<a
			class="walk-photo"
			href={PATHS.photo(photo.key)}
			aria-label={`Photograph ${number}, ${pins}`}
		>
			<img src={url ?? undefined} alt="" />
			<span class="small">{pins}</span>
		</a>
	);
}
