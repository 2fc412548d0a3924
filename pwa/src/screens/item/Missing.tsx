/** An item that is not among this phone's records: binned, or not received yet. */
import { useEffect, useState } from "preact/hooks";
import { history } from "../../storage/boat.ts";
import { Notice } from "../../ui/Notice.tsx";
import { Screen } from "../../ui/Screen.tsx";
import { History } from "../common/History.tsx";
import { keepOrSay } from "../common/keeping.ts";
import { PATHS } from "../paths.ts";

export function Missing({ itemKey }: { itemKey: string }) {
	const [known, setKnown] = useState<boolean | null>(null);
	const [fault, setFault] = useState<string | null>(null);
	useEffect(() => {
		void history("item", itemKey).then((changes) => setKnown(changes.length > 0));
	}, [itemKey]);
	const restore = async (): Promise<void> => {
		setFault(await keepOrSay([{ table: "item", key: itemKey, set: { binned: null } }]));
	};
	if (known === null) return <Screen title="Item" backTo={PATHS.find} children={null} />;
	if (!known)
		return (
			<Screen title="Not on this phone yet" backTo={PATHS.find}>
				<p>
					This phone has no record of the item. Another phone may have it and not have sent it. Send
					and receive where there is a signal, then look again.
				</p>
				<div class="buttons">
					<a class="button" href={PATHS.kept}>
						Send and receive
					</a>
				</div>
			</Screen>
		);
	return (
		<Screen title="This item is in the bin" backTo={PATHS.find}>
			<p>
				Its record and its history are kept. Its tag can be used again only after it was taken off.
			</p>
			{fault && <Notice sort="asks">{fault}</Notice>}
			<div class="buttons">
				<button type="button" class="button button-main" onClick={() => void restore()}>
					Take it out of the bin
				</button>
			</div>
			<History of={[["item", itemKey]]} />
		</Screen>
	);
}
