/** Photographs of a record, from the phone where it has them, else from the server. */
import { useEffect, useState } from "preact/hooks";
import type { Photo } from "../../domain/contract.ts";
import { groupedBy } from "../../domain/grouped.ts";
import { boat } from "../../storage/boat.ts";
import { photoUrl } from "../../storage/photos.ts";

const byTarget = groupedBy((photo: Photo) => photo.of);

/** Photographs of `target` (`item/key`), newest first. */
export function photosOf(target: string): Photo[] {
	return byTarget(boat.table("photo").value, target)
		.filter((photo) => photo.sha256 !== null)
		.sort((a, b) => (b.taken_at ?? "").localeCompare(a.taken_at ?? ""));
}

/** An address for `<img>`; null until it is known, or when there is none. */
export function usePhoto(
	sha256: string | null | undefined,
	size: "thumbnail" | "full",
): string | null {
	const [url, setUrl] = useState<string | null>(null);
	useEffect(() => {
		let wanted = true;
		setUrl(null);
		if (sha256)
			void photoUrl(sha256, size)
				.catch(() => null)
				.then((found) => {
					if (wanted) setUrl(found);
				});
		return () => {
			wanted = false;
		};
	}, [sha256, size]);
	return url;
}

/** A small picture of a record for a list; an empty square when there is none. */
export function RowPicture({ of }: { of: string }) {
	const [newest] = photosOf(of);
	const url = usePhoto(newest?.sha256, "thumbnail");
	if (!url) return <span class="row-picture" aria-hidden="true" />;
	return <img class="row-picture" src={url} alt="" loading="lazy" width="80" height="80" />;
}
