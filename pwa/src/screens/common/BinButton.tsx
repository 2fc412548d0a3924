/** Puts what a screen shows in the bin, and goes back to where it was listed. */
import { useState } from "preact/hooks";
import { Notice } from "../../ui/Notice.tsx";
import { go } from "../../ui/router.ts";
import { keepOrSay } from "./keeping.ts";

interface Props {
	table: "job" | "lift";
	of: string;
	/** The address that is shown then. */
	after: string;
}

export function BinButton({ table, of, after }: Props) {
	const [fault, setFault] = useState<string | null>(null);
	const bin = async (): Promise<void> => {
		const why = await keepOrSay([{ table, key: of, set: { binned: true } }]);
		if (why) setFault(why);
		else go(after, { replace: true });
	};
	return (
		<div class="buttons part">
			<button type="button" class="button" onClick={() => void bin()}>
				Put in the bin
			</button>
			{fault && (
				<Notice sort="asks" role="alert">
					{fault}
				</Notice>
			)}
		</div>
	);
}
