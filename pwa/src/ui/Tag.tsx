/** The tag: the figure that stands for one item, on screen as on its printed label. */
import type { ComponentChildren } from "preact";
import { tied } from "./tied.ts";

interface Props {
	/** Shown with its hyphen, like `K7Q-4M2`; null while there is none. */
	code: string | null;
	/** The first line: where it sat. */
	where?: string | undefined;
	title?: string | undefined;
	/** Address of the photograph; null shows that there is none, undefined leaves no room for one. */
	picture?: string | null | undefined;
	pictureAlt?: string;
	/** What stands in the picture's place while there is none. */
	noPicture?: string;
	large?: boolean;
	children?: ComponentChildren;
}

export function Tag(props: Props) {
	const { code, where, title, picture, pictureAlt = "", noPicture, large, children } = props;
	return (
		<div class={picture === undefined ? "tag" : "tag tag-with-picture"}>
			<div class="tag-card">
				<span class="tag-hole" aria-hidden="true" />
				{picture !== undefined && (
					<TagPicture src={picture} alt={pictureAlt} without={noPicture ?? "No photo yet"} />
				)}
				<div class="tag-words">
					{where && <p class="tag-where">{where}</p>}
					<p class={large ? "tag-code tag-code-large" : "tag-code"}>{code ?? "No tag yet"}</p>
					{title && <p class="tag-title">{title}</p>}
					{children}
				</div>
			</div>
		</div>
	);
}

function TagPicture({ src, alt, without }: { src: string | null; alt: string; without: string }) {
	if (!src) return <span class="tag-blank">{without}</span>;
	return <img class="tag-picture" src={src} alt={alt} />;
}

/** A code in a list or a sentence. */
export function Code({ children }: { children: string }) {
	return <span class="code">{children}</span>;
}

const CODES = /(\(?[0-9A-Z]{3}-[0-9A-Z]{3}\)?)/;

/** A sentence whose codes are not broken at their hyphens: half a code can't be looked for. */
export function Unbroken({ text }: { text: string }) {
	return (
		<>
			{text.split(CODES).map((part, at) =>
				at % 2 ? (
					// A sentence has its parts in one order for ever.
					<span key={`${at} ${part}`} class="whole">
						{part}
					</span>
				) : (
					tied(part)
				),
			)}
		</>
	);
}
