/** All photographs of a record; a tap shows one in full. */
import { useState } from "preact/hooks";
import type { Photo } from "../../domain/contract.ts";
import { Sheet } from "../../ui/Sheet.tsx";
import { clock, count, day } from "../../ui/words.ts";
import { keepOrSay } from "../common/keeping.ts";
import { photosOf, usePhoto } from "../common/photos.tsx";

export function Photos({ target }: { target: string }) {
	const [open, setOpen] = useState<Photo | null>(null);
	const photos = photosOf(target);
	if (photos.length === 0) return null;
	return (
		<section class="part">
			<h2>{count(photos.length, "photograph")}</h2>
			<div class="photo-grid">
				{photos.map((photo) => (
					<Tile key={photo.key} photo={photo} onTap={() => setOpen(photo)} />
				))}
			</div>
			{open && <FullPhoto photo={open} onClose={() => setOpen(null)} />}
		</section>
	);
}

function Tile({ photo, onTap }: { photo: Photo; onTap: () => void }) {
	const url = usePhoto(photo.sha256, "thumbnail");
	return (
		<button type="button" class="photo-tile" onClick={onTap}>
			<img src={url ?? undefined} alt={`Photograph of ${takenAt(photo)}`} />
		</button>
	);
}

function FullPhoto({ photo, onClose }: { photo: Photo; onClose: () => void }) {
	const full = usePhoto(photo.sha256, "full");
	const small = usePhoto(photo.sha256, "thumbnail");
	const [isAway, setAway] = useState(false);
	const bin = async (): Promise<void> => {
		if (!(await keepOrSay([{ table: "photo", key: photo.key, set: { binned: true } }]))) onClose();
	};
	return (
		<Sheet title={sentenceOf(photo)} onClose={onClose}>
			<img
				class="photo-full"
				src={(isAway ? small : full) ?? undefined}
				onError={() => setAway(true)}
				alt={photo.caption ?? `Photograph of ${takenAt(photo)}`}
				width={photo.width ?? undefined}
				height={photo.height ?? undefined}
			/>
			{isAway && (
				<p>
					This is the small copy. The full picture is still on the phone that took it, or the server
					can't be reached from here.
				</p>
			)}
			<div class="buttons">
				<button type="button" class="button" onClick={() => void bin()}>
					Put photograph in the bin
				</button>
			</div>
		</Sheet>
	);
}

function takenAt(photo: Photo): string {
	if (!photo.taken_at) return "unknown date";
	const at = new Date(photo.taken_at);
	return `${day(at)}, ${clock(at)}`;
}

function sentenceOf(photo: Photo): string {
	return photo.caption ?? takenAt(photo);
}
