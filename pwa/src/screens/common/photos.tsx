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
	return useLoading(sha256, size).url;
}

/** The same, and whether it is still being looked for. */
export function useLoading(
	sha256: string | null | undefined,
	size: "thumbnail" | "full",
): { url: string | null; loading: boolean } {
	const wanted = sha256 ? `${sha256} ${size}` : null;
	const [found, setFound] = useState<{ of: string; url: string | null } | null>(null);
	useEffect(() => {
		let here = true;
		if (sha256 && wanted)
			void photoUrl(sha256, size)
				.catch(() => null)
				.then((url) => {
					if (here) setFound({ of: wanted, url });
				});
		return () => {
			here = false;
		};
	}, [sha256, size, wanted]);
	const known = found?.of === wanted ? found : null;
	return { url: known?.url ?? null, loading: wanted !== null && known === null };
}

/** A small picture of a record for a list; an empty square when there is none. */
export function RowPicture({ of }: { of: string }) {
	const [newest] = photosOf(of);
	const url = usePhoto(newest?.sha256, "thumbnail");
	if (!url) return <span class="row-picture" aria-hidden="true" />;
	return <img class="row-picture" src={url} alt="" loading="lazy" width="80" height="80" />;
}
