/** Choosing where something sits in the boat; a new compartment is one line of typing away. */
import { boat, newKey } from "../../storage/boat.ts";
import { keepOrSay } from "./keeping.ts";
import { PickSheet } from "./PickSheet.tsx";

interface Props {
	picked: string | null;
	recent?: readonly string[];
	onPick: (key: string | null) => void;
	onClose: () => void;
}

export function CompartmentSheet({ picked, recent = [], onPick, onClose }: Props) {
	const add = async (name: string): Promise<void> => {
		const key = newKey();
		if (!(await keepOrSay([{ table: "compartment", key, set: { name } }]))) onPick(key);
	};
	return (
		<PickSheet
			title="Where it sits"
			nodes={boat.table("compartment").value}
			picked={picked}
			none="Not known yet"
			recent={recent}
			addWord="Add compartment"
			onAdd={(name) => void add(name)}
			onPick={onPick}
			onClose={onClose}
		/>
	);
}
