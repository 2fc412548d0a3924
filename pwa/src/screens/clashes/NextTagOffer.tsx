/** What lost its tag to another is offered the next one of this phone. */
import { useState } from "preact/hooks";
import { shown } from "../../domain/tag.ts";
import { reserve } from "../../sync/tags.ts";
import { Notice } from "../../ui/Notice.tsx";
import { keepOrSay } from "../common/keeping.ts";
import { RecordCard, subjectName } from "../common/RecordCard.tsx";
import { PATHS } from "../paths.ts";

export function NextTagOffer({ target, onDone }: { target: string; onDone: () => void }) {
	const [fault, setFault] = useState<string | null>(null);
	const [table = "", key = ""] = target.split("/");
	const [next] = reserve.value;
	const give = async (code: string): Promise<void> => {
		const why = await keepOrSay([{ table: "tag", key: code, set: { on: target, binned: null } }]);
		setFault(why);
		if (!why) onDone();
	};
	return (
		<section class="clash" aria-label={`${subjectName(table, key)} has no tag now`}>
			<RecordCard table={table} recordKey={key} />
			<p class="part-note">This has no tag now.</p>
			<div class="buttons">
				{next ? (
					<button type="button" class="button button-main" onClick={() => void give(next)}>
						Give it the next tag, {shown(next)}
					</button>
				) : (
					<a class="button button-main" href={PATHS.tags}>
						Get more tags
					</a>
				)}
				<button type="button" class="button" onClick={onDone}>
					Later
				</button>
			</div>
			{fault && (
				<Notice sort="danger" role="alert">
					{fault}
				</Notice>
			)}
		</section>
	);
}
