/** The address of a printed sheet of tags. */
export interface SheetWish {
	readonly sheet: string;
	readonly look: "blank" | "filled";
	readonly block?: string;
	readonly codes?: readonly string[];
}

export function sheetUrl(boat: string, { sheet, look, block, codes }: SheetWish): string {
	const query = new URLSearchParams({ sheet, look });
	if (block) query.set("block", block);
	if (codes) query.set("codes", codes.join(","));
	return `/api/boats/${encodeURIComponent(boat)}/tags.pdf?${query}`;
}
