/** A sheet that rises from the bottom for one choice. Escape, "Close" and the ground all leave it. */
import type { ComponentChildren } from "preact";
import { useEffect, useId, useRef } from "preact/hooks";

interface Props {
	title: string;
	onClose: () => void;
	children: ComponentChildren;
}

export function Sheet({ title, onClose, children }: Props) {
	const dialog = useRef<HTMLDialogElement>(null);
	const id = useId();
	useEffect(() => {
		const element = dialog.current;
		if (element && !element.open) element.showModal();
	}, []);
	return (
		// biome-ignore lint/a11y/useKeyWithClickEvents: Escape closes a dialog by itself
		<dialog
			ref={dialog}
			class="sheet"
			aria-labelledby={id}
			onClose={onClose}
			onClick={(event) => {
				if (event.target === dialog.current) dialog.current?.close();
			}}
		>
			<div class="sheet-head">
				<h2 id={id}>{title}</h2>
				<button type="button" class="button button-quiet" onClick={() => dialog.current?.close()}>
					Close
				</button>
			</div>
			{children}
		</dialog>
	);
}
