/** An item as a tag and as a row of a list; the same words in both. */
import type { ComponentChildren } from "preact";
import type { Item } from "../../domain/contract.ts";
import { codesOn, itemName } from "../../domain/names.ts";
import { isOut } from "../../domain/recount.ts";
import { shown } from "../../domain/tag.ts";
import { pathOf } from "../../domain/tree.ts";
import { boat } from "../../storage/boat.ts";
import { rules } from "../../storage/rules.ts";
import { State } from "../../ui/State.tsx";
import { Code, Tag } from "../../ui/Tag.tsx";
import { PATHS } from "../paths.ts";
import { photosOf, RowPicture, useLoading } from "./photos.tsx";

export const NO_COMPARTMENT = "No compartment yet";

/** `Galley, under the sink`: the innermost two names are enough to find it by. */
export function whereItSat(item: Item): string {
	const names = pathOf(boat.table("compartment").value, item.compartment);
	if (names.length === 0) return NO_COMPARTMENT;
	return names.slice(-2).join(", ");
}

/** A photograph that is known but not here yet is none that is missing. */
function noPictureWords(known: boolean, loading: boolean): string {
	if (loading) return "Photo loading";
	return known ? "Photo not on this phone" : "No photo yet";
}

interface ItemTagProps {
	item: Item;
	/** The name stands above it as a heading already. */
	untitled?: boolean;
	large?: boolean;
	children?: ComponentChildren;
}

export function ItemTag({ item, untitled, large = false, children }: ItemTagProps) {
	const [newest] = photosOf(`item/${item.key}`);
	const { url: picture, loading } = useLoading(newest?.sha256, "thumbnail");
	const [code] = codesOn(boat.table("tag").value, `item/${item.key}`);
	const name = itemName(item, rules.value);
	return (
		<Tag
			code={code ? shown(code) : null}
			where={whereItSat(item)}
			title={untitled ? undefined : name}
			large={large}
			picture={picture}
			noPicture={noPictureWords(newest !== undefined, loading)}
			pictureAlt={`Photograph of ${name}`}
		>
			{children}
		</Tag>
	);
}

interface ItemRowProps {
	item: Item;
	/** The list is that of its compartment, which stands above it already. */
	here?: boolean;
	children?: ComponentChildren;
}

export function ItemRow({ item, here = false, children }: ItemRowProps) {
	const [code] = codesOn(boat.table("tag").value, `item/${item.key}`);
	return (
		<a class="row" href={PATHS.item(item.key)}>
			<RowPicture of={`item/${item.key}`} />
			<span class="row-main">
				<span class="row-title">{itemName(item, rules.value)}</span>
				{!here && <span class="row-under">{whereItSat(item)}</span>}
				<span class="tag-line row-tags">
					{code && <Code>{shown(code)}</Code>}
					<ItemState item={item} />
				</span>
				{children}
			</span>
		</a>
	);
}

export function ItemState({ item }: { item: Item }) {
	if (item.whereabouts === "gone") return <State is="out">Gone</State>;
	if (isOut(item)) return <State is="out">Ashore</State>;
	return <State is="plain">Aboard</State>;
}
