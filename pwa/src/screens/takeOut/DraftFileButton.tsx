/** The picture picker of the take-out screen: the draft is stored before the picker opens. */
import type { ComponentChildren } from "preact";
import { FileButton } from "../common/FileButton.tsx";
import { setDraft } from "./draft.ts";

interface Props {
	class: string;
	onFile: (file: File) => void;
	children: ComponentChildren;
}

export function DraftFileButton({ onFile, ...rest }: Props) {
	return (
		<FileButton
			{...rest}
			onOpen={() => setDraft({ picking: true })}
			onCancel={() => setDraft({ picking: false })}
			onFile={(file) => {
				setDraft({ picking: false });
				onFile(file);
			}}
		/>
	);
}
