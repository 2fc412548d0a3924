/** The large button that opens something to print. */
import { Icon } from "../../ui/Icon.tsx";

export function PrintLink({ href, words }: { href: string; words: string }) {
	return (
		<div class="buttons">
			<a class="button button-main button-wide" href={href} target="_blank" rel="noreferrer">
				<Icon name="print" /> {words}
			</a>
		</div>
	);
}
