/** A button that opens the phone's own camera or picture picker. */
import type { ComponentChildren } from "preact";
import "./fileButton.css";

interface Props {
	class: string;
	onFile: (file: File) => void;
	/** Just before the picker covers the page, which the phone may close then. */
	onOpen?: () => void;
	onCancel?: () => void;
	children: ComponentChildren;
}

export function FileButton({ class: className, onFile, onOpen, onCancel, children }: Props) {
	return (
		<label class={`${className} file-button`}>
			{children}
			<input
				class="file-input"
				type="file"
				accept="image/*"
				capture="environment"
				aria-label="Picture from a file or the phone's camera"
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
