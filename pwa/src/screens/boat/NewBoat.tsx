/** Beginning a boat: its name is enough, the rest can follow. */
import { useRef, useState } from "preact/hooks";
import type { Boat } from "../../domain/contract.ts";
import { StorageFault } from "../../storage/boat.ts";
import { createBoat } from "../../sync/session.ts";
import { TextField } from "../../ui/Field.tsx";
import { Notice } from "../../ui/Notice.tsx";
import { go } from "../../ui/router.ts";
import { Screen } from "../../ui/Screen.tsx";
import { PATHS } from "../paths.ts";
import { Metres, RuleFields } from "./BoatFields.tsx";

type Values = Partial<Omit<Boat, "key">>;

export function NewBoat() {
	const [values, setValues] = useState<Values>({ rule_set: "eu", holder: "household" });
	const [fault, setFault] = useState<string | null>(null);
	// Sending the form may itself bring the last field in, before this is drawn again.
	const latest = useRef(values);
	const set = (part: Values): void => {
		latest.current = { ...latest.current, ...part };
		setValues(latest.current);
	};
	const create = async (event: Event): Promise<void> => {
		event.preventDefault();
		if (!latest.current.name) {
			setFault("Give the boat a name first. Nothing was kept yet.");
			return;
		}
		try {
			await createBoat(latest.current);
			go(PATHS.takeOut, { replace: true });
		} catch (error) {
			if (!(error instanceof StorageFault)) throw error;
			setFault(error.message);
		}
	};
	return (
		<Screen title="The boat" under="Its name is enough to begin; measures are for the drawing.">
			<form onSubmit={(event) => void create(event)}>
				<TextField
					label="Name of the boat"
					value={values.name ?? ""}
					longest={200}
					onKeep={(name) => void set({ name })}
				/>
				<div class="pair-of-fields">
					<Metres label="Length" value={values.length_m} onKeep={(length_m) => set({ length_m })} />
					<Metres label="Beam" value={values.beam_m} onKeep={(beam_m) => set({ beam_m })} />
					<Metres
						label="Draught"
						value={values.draught_m}
						onKeep={(draught_m) => set({ draught_m })}
					/>
				</div>
				<RuleFields
					ruleSet={values.rule_set ?? null}
					holder={values.holder ?? null}
					onRuleSet={(rule_set) => set({ rule_set })}
					onHolder={(holder) => set({ holder })}
				/>
				{fault && (
					<Notice sort="asks" role="alert">
						{fault}
					</Notice>
				)}
				<div class="buttons">
					<button type="submit" class="button button-main button-wide">
						Begin this boat
					</button>
				</div>
			</form>
		</Screen>
	);
}
