/** A button that opens the phone's own camera, or its picker of files. */
import type { ComponentChildren } from "preact";
import "./fileButton.css";

interface Props {
	class: string;
	/** What may be picked; pictures, where nothing is said. */
	accept?: string;
	/** What the picker is called by a screen reader. */
	label?: string;
	onFile: (file: File) => void;
	/** Just before the picker covers the page, which the phone may close then. */
	onOpen?: () => void;
	onCancel?: () => void;
	children: ComponentChildren;
}

export function FileButton(props: Props) {
	const { accept = "image/*", label, onFile, onOpen, onCancel, children } = props;
	return (
		<label class={`${props.class} file-button`}>
			{children}
			<input
				class="file-input"
				type="file"
				accept={accept}
				{...(accept === "image/*" ? { capture: "environment" as const } : {})}
				aria-label={label ?? "Picture from a file or the phone's camera"}
				onClick={() => onOpen?.()}
				onCancel={() => onCancel?.()}
				onChange={(event) => {
					const [file] = event.currentTarget.files ?? [];
					if (file) onFile(file);
					else onCancel?.();
					event.currentTarget.value = "";
				}}
			/>
		</label>
	);
}
