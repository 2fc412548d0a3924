/** A new container begins with what is to go into it; the rules say what it should be. */
import { useState } from "preact/hooks";
import { pathsOfStream } from "../../domain/apart.ts";
import { sortFrom } from "../../domain/boxing.ts";
import { boat, newKey } from "../../storage/boat.ts";
import { rules } from "../../storage/rules.ts";
import { LabelledInput } from "../../ui/LabelledInput.tsx";
import { Cautions, Notice } from "../../ui/Notice.tsx";
import { address, go } from "../../ui/router.ts";
import { Screen } from "../../ui/Screen.tsx";
import { keepOrSay } from "../common/keeping.ts";
import { PATHS } from "../paths.ts";
import { SortField, StreamField } from "./BoxSettings.tsx";
import { PathSteps } from "./PathSteps.tsx";

export function NewBox() {
	const [id, setId] = useState(address.value.query.get("stream") ?? "");
	const [sort, setSort] = useState<string | null>(null);
	const [name, setName] = useState("");
	const [fault, setFault] = useState<string | null>(null);
	const stream = rules.value?.streams?.find((one) => one.id === id);
	const asked = sort ?? (stream ? sortFrom(stream.keep_in) : null);
	const proposed = stream ? nameFor(stream.name, asked) : "";
	const make = async (event: Event): Promise<void> => {
		event.preventDefault();
		const key = newKey();
		const set = { name: name.trim() || proposed || "Container", stream: id || null, sort: asked };
		const why = await keepOrSay([{ table: "container", key, set }]);
		if (why) setFault(why);
		else go(PATHS.box(key), { replace: true });
	};
	return (
		<Screen title="New container" backTo={PATHS.boxes}>
			<form onSubmit={(event) => void make(event)}>
				<StreamField value={id} onKeep={(next) => setId(next ?? "")} />
				{stream && (
					<>
						<div class="part-tight">
							<Cautions of={stream.cautions} />
							<PathSteps of={pathsOfStream(id, rules.value)} />
						</div>
						<Notice sort="plain" word="Keep it in">
							{stream.keep_in}
						</Notice>
					</>
				)}
				<SortField key={`${id} ${asked}`} value={asked} onKeep={setSort} />
				<LabelledInput
					label="Name"
					longest={200}
					placeholder={proposed}
					value={name}
					onType={setName}
				/>
				<div class="buttons">
					<button type="submit" class="button button-main button-wide button-hot">
						Make this container
					</button>
				</div>
			</form>
			{fault && (
				<Notice sort="asks" role="alert">
					{fault}
				</Notice>
			)}
		</Screen>
	);
}

/** `Can, oily rags`, with a number from the second of a name on. */
function nameFor(stream: string, sort: string | null): string {
	const word = sort ?? "container";
	const base = `${word.charAt(0).toUpperCase()}${word.slice(1)}, ${stream.toLowerCase()}`;
	const used = new Set([...boat.table("container").value.values()].map((row) => row.name));
	if (!used.has(base)) return base;
	for (let at = 2; ; at += 1) if (!used.has(`${base} ${at}`)) return `${base} ${at}`;
}
