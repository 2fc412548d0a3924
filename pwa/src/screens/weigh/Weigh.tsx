/** Weighing: what is on the scale, what it shows, kept at once; the result stands there offline. */
import { useState } from "preact/hooks";
import { itemName } from "../../domain/names.ts";
import { boat } from "../../storage/boat.ts";
import { rules } from "../../storage/rules.ts";
import { address, go } from "../../ui/router.ts";
import { Screen } from "../../ui/Screen.tsx";
import { ItemTag } from "../common/ItemTag.tsx";
import { PATHS } from "../paths.ts";
import { OnTheScale } from "./OnTheScale.tsx";
import { Reading } from "./Reading.tsx";
import type { Subject } from "./subject.ts";
import "./weigh.css";

export function Weigh() {
	const [turn, setTurn] = useState(0);
	const target = address.value.query.get("of");
	const subject = target ? subjectOf(target) : null;
	if (!subject)
		return (
			<Screen title="Weigh" backTo={PATHS.masses}>
				<OnTheScale
					missing={target !== null}
					onPick={(of) => go(PATHS.weigh(of), { replace: true })}
				/>
			</Screen>
		);
	return (
		<Screen title={`Weigh: ${subject.name}`} backTo={backFrom(subject)}>
			<Shown subject={subject} />
			<Reading
				key={`${target} ${turn}`}
				subject={subject}
				onNext={() => go(PATHS.weigh(), { replace: true })}
				onAgain={() => setTurn(turn + 1)}
			/>
		</Screen>
	);
}

function Shown({ subject }: { subject: Subject }) {
	const item = subject.table === "item" ? boat.table("item").value.get(subject.key) : undefined;
	return (
		<>
			{item && <ItemTag item={item} untitled />}
			<p class="part-note">
				<a class="weigh-other" href={PATHS.weigh()}>
					Something else is on the scale
				</a>
			</p>
		</>
	);
}

function subjectOf(target: string): Subject | null {
	const [table, key = ""] = target.split("/");
	if (table === "item") {
		const item = boat.table("item").value.get(key);
		return item ? { table, key, name: itemName(item, rules.value) } : null;
	}
	if (table === "place" || table === "container") {
		const row = boat.table(table).value.get(key);
		return row ? { table, key, name: row.name ?? "unnamed" } : null;
	}
	return null;
}

function backFrom({ table, key }: Subject): string {
	if (table === "item") return PATHS.item(key);
	return table === "place" ? PATHS.place(key) : PATHS.box(key);
}
