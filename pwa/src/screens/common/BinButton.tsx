/** Puts what a screen shows in the bin, and goes back to where it was listed. */
import { useState } from "preact/hooks";
import { Notice } from "../../ui/Notice.tsx";
import { go } from "../../ui/router.ts";
import { keepOrSay } from "./keeping.ts";

interface Props {
	table: "job" | "lift" | "place";
	of: string;
	/** The address that is shown then. */
	after: string;
	/** Where "Put in the bin" would leave open what. */
	words?: string;
}

export function BinButton({ table, of, after, words = "Put in the bin" }: Props) {
	const [fault, setFault] = useState<string | null>(null);
	const bin = async (): Promise<void> => {
		const why = await keepOrSay([{ table, key: of, set: { binned: true } }]);
		if (why) setFault(why);
		else go(after, { replace: true });
	};
	return (
		<div class="buttons part">
			<button type="button" class="button" onClick={() => void bin()}>
				{words}
			</button>
			{fault && (
				<Notice sort="asks" role="alert">
					{fault}
				</Notice>
			)}
		</div>
	);
}
