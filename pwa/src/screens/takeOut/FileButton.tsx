/** A button that opens the phone's own camera or picture picker. */
import type { ComponentChildren } from "preact";
import { setDraft } from "./draft.ts";

interface Props {
	class: string;
	onFile: (file: File) => void;
	children: ComponentChildren;
}

export function FileButton({ class: className, onFile, children }: Props) {
	return (
		<label class={`${className} file-button`}>
			{children}
			<input
				class="file-input"
				type="file"
				accept="image/*"
				capture="environment"
				aria-label="Picture from a file or the phone's camera"
				onClick={() => setDraft({ picking: true })}
				onCancel={() => setDraft({ picking: false })}
				onChange={(event) => {
					const [file] = event.currentTarget.files ?? [];
					setDraft({ picking: false });
					if (file) onFile(file);
					event.currentTarget.value = "";
				}}
			/>
		</label>
	);
}
