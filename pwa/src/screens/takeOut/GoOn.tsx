/** After the phone closed the page behind its camera: what was set is still here. */
import { shown } from "../../domain/tag.ts";
import { Notice } from "../../ui/Notice.tsx";
import { setDraft } from "./draft.ts";
import { nextCode } from "./nextCode.ts";

export function GoOn({ onDrop }: { onDrop: () => void }) {
	const code = nextCode.value?.code;
	return (
		<Notice sort="asks" role="status">
			<p>
				<span class="notice-word">The picture did not arrive.</span> The phone closed this page
				while its camera was open. Compartment, condition and tag {code ? shown(code) : ""} are as
				you set them: take the picture again.
			</p>
			<div class="buttons">
				<button
					type="button"
					class="button"
					onClick={() => {
						setDraft({ picking: false });
						onDrop();
					}}
				>
					Go on
				</button>
				<button
					type="button"
					class="button"
					onClick={() => {
						setDraft({ picking: false, condition: null, code: null, item: null });
						onDrop();
					}}
				>
					Start afresh
				</button>
			</div>
		</Notice>
	);
}
