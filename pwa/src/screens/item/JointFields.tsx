/** What flows in a hose, and the thread of what is screwed: what it is ordered by. */
import type { Item } from "../../domain/contract.ts";
import { Unreadable } from "../../domain/measure.ts";
import { parseThread } from "../../domain/thread.ts";
import { rules } from "../../storage/rules.ts";
import { SelectField, TextField } from "../../ui/Field.tsx";
import type { SetItem } from "./setItem.ts";

/** Kinds that are screwed together by pipe threads. */
const THREADED = ["seacock", "skin-fitting", "hose-tail"];

interface Props {
	item: Item;
	set: SetItem;
}

export function JointFields({ item, set }: Props) {
	const services = rules.value?.renewal?.services ?? [];
	const able = services.filter(({ kinds }) => item.kind && kinds.includes(item.kind));
	const threaded = item.thread !== null || (item.kind && THREADED.includes(item.kind));
	return (
		<>
			{(able.length > 1 || item.service !== null) && (
				<SelectField
					label="What flows in it"
					value={item.service ?? ""}
					onChange={(service) => void set({ service: service || null })}
				>
					<option value="">Not said yet</option>
					{(able.length > 0 ? able : services).map(({ id, name }) => (
						<option key={id} value={id}>
							{name}
						</option>
					))}
				</SelectField>
			)}
			{threaded && (
				<TextField
					label="Thread"
					value={item.thread ?? ""}
					longest={200}
					hint="G 3/4, R 3/4 outside, 3/4 NPT, or what you measure: 33.2 mm, 11 tpi."
					onKeep={(text) => {
						const why = text === "" ? null : unread(text);
						if (why) return `“${text}” was not kept and stays as you typed it: ${why}.`;
						void set({ thread: text || null });
						return null;
					}}
				/>
			)}
		</>
	);
}

function unread(text: string): string | null {
	const known = rules.value?.renewal;
	if (!known?.thread_sizes) return null;
	try {
		parseThread(text, known);
		return null;
	} catch (error) {
		if (error instanceof Unreadable) return error.message;
		throw error;
	}
}
