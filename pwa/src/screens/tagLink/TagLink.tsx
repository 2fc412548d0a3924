/** Where a tag's QR leads when the phone's own camera reads it: to the item, if this is the app. */
import { useEffect } from "preact/hooks";
import { shown } from "../../domain/tag.ts";
import { boat } from "../../storage/boat.ts";
import { session } from "../../sync/session.ts";
import { go } from "../../ui/router.ts";
import { Screen } from "../../ui/Screen.tsx";
import { Tag } from "../../ui/Tag.tsx";
import { readCode } from "../common/CodeEntry.tsx";
import { ownerOf } from "../common/tagOwner.ts";
import { PATHS } from "../paths.ts";

export function TagLink({ text }: { text: string }) {
	const read = readCode(text);
	if ("fault" in read)
		return (
			<Screen title="This code can't be right">
				<p>{read.fault}</p>
				<Ways />
			</Screen>
		);
	return <Known code={read.code} />;
}

function Known({ code }: { code: string }) {
	const owner = ownerOf(code);
	const path = owner.sort === "free" ? null : owner.path;
	useEffect(() => {
		if (path) go(path, { replace: true });
	}, [path]);
	if (path) return <Screen title={`Tag ${shown(code)}`} children={null} />;
	const here = session.value.paired && boat.key.value !== null;
	return (
		<Screen title="A tag of this shed">
			<Tag code={shown(code)} large>
				{here ? "On nothing that this phone knows" : "This browser is not the app"}
			</Tag>
			<p class="part">
				{here
					? "It may be a blank tag, or another phone used it and has not sent that yet."
					: "Open Shedtally from the home screen of this phone and scan the tag inside the app. This page knows nothing of the boat and keeps nothing."}
			</p>
			<Ways code={here ? code : undefined} />
		</Screen>
	);
}

function Ways({ code }: { code?: string | undefined }) {
	return (
		<div class="buttons">
			{code && (
				<a class="button button-main" href={`${PATHS.takeOut}?code=${code}`}>
					Use it on the next item
				</a>
			)}
			<a class="button" href={PATHS.find}>
				Scan inside the app
			</a>
		</div>
	);
}
