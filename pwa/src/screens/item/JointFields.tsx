/** What flows in a hose, and the thread of what is screwed: what it is ordered by. */
import type { End, Item } from "../../domain/contract.ts";
import { Unreadable } from "../../domain/measure.ts";
import { parseThread } from "../../domain/thread.ts";
import { rules } from "../../storage/rules.ts";
import { SelectField, TextField } from "../../ui/Field.tsx";
import type { SetItem } from "./setItem.ts";

/** Kinds that are screwed together by pipe threads. */
const THREADED = ["seacock", "skin-fitting", "hose-tail"];

/** Whether a thread may be asked of an end: one side is screwed, or somebody wrote one. */
export function isScrewed(end: End, sides: readonly (Item | undefined)[]): boolean {
	const threaded = (item: Item | undefined): boolean =>
		Boolean(item?.thread || (item?.kind && THREADED.includes(item.kind)));
	return end.thread !== null || sides.some(threaded);
}

interface ThreadProps {
	label: string;
	value: string | null;
	hint: string;
	onKeep: (text: string | null) => void;
}

/** A thread as people write it; what can't be read is not kept, and says why. */
export function ThreadField({ label, value, hint, onKeep }: ThreadProps) {
	return (
		<TextField
			label={label}
			value={value ?? ""}
			longest={200}
			hint={hint}
			onKeep={(text) => {
				const why = text === "" ? null : unread(text);
				if (why) return `“${text}” was not kept and stays as you typed it: ${why}.`;
				onKeep(text || null);
				return null;
			}}
		/>
	);
}

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
				<ThreadField
					label="Thread"
					value={item.thread}
					hint="G 3/4, R 3/4 outside, 3/4 NPT, or what you measure: 33.2 mm, 11 tpi."
					onKeep={(thread) => void set({ thread })}
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
