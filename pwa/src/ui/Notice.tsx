/** What a person must not miss: one line, the rest behind a tap where there is more. */
import type { ComponentChildren } from "preact";

export type NoticeSort = "danger" | "asks" | "done" | "plain";

interface Props {
	sort: NoticeSort;
	/** The word in front, like "Caution". */
	word?: string;
	role?: "alert" | "status";
	children: ComponentChildren;
}

export function Notice({ sort, word, role, children }: Props) {
	return (
		<div class={`notice notice-${sort}`} role={role}>
			{word && <span class="notice-word">{word}. </span>}
			{children}
		</div>
	);
}

/** Cautions: the first in one line, all of them after a tap. Nothing at all when there are none. */
export function Cautions({ of }: { of: readonly string[] }) {
	const [first, ...others] = of;
	if (!first) return null;
	return (
		<Notice sort="danger">
			<details>
				<summary>
					<span class="row-main caution-line">
						<span class="notice-word">Caution. </span>
						{first}
					</span>
				</summary>
				{others.length > 0 && (
					<ul>
						{others.map((caution) => (
							<li key={caution}>{caution}</li>
						))}
					</ul>
				)}
			</details>
		</Notice>
	);
}
