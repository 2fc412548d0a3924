/** Beginning a boat: its name is enough, the rest can follow. */
import { useRef, useState } from "preact/hooks";
import type { Boat } from "../../domain/contract.ts";
import { boat, StorageFault } from "../../storage/boat.ts";
import { createBoat } from "../../sync/session.ts";
import { TextField } from "../../ui/Field.tsx";
import { Notice } from "../../ui/Notice.tsx";
import { go } from "../../ui/router.ts";
import { Screen } from "../../ui/Screen.tsx";
import { PATHS } from "../paths.ts";
import { BEAM_HINT, DRAUGHT_HINT, Metres, RuleFields } from "./BoatFields.tsx";

type Values = Partial<Omit<Boat, "key">>;

export function NewBoat() {
	const [values, setValues] = useState<Values>({ rule_set: "eu", holder: "household" });
	const [fault, setFault] = useState<string | null>(null);
	// Sending the form may itself bring the last field in, before this is drawn again.
	const latest = useRef(values);
	// What was typed and can't be read must not be lost without a word.
	const unread = useRef(new Map<string, string>());
	const noteFault =
		(field: string) =>
		(why: string | null): void => {
			if (why) unread.current.set(field, why);
			else unread.current.delete(field);
		};
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
		const [wrong] = unread.current;
		if (wrong) {
			const [field, why] = wrong;
			setFault(`${field}: ${why}. Nothing was kept yet; put it right, or leave it empty.`);
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
		<Screen
			title={boat.key.value ? "Another boat" : "The boat"}
			under="Its name is enough to begin; measures are for the drawing."
			{...(boat.key.value ? { backTo: PATHS.boat } : {})}
		>
			<form onSubmit={(event) => void create(event)}>
				<TextField
					label="Name of the boat"
					value={values.name ?? ""}
					longest={200}
					onKeep={(name) => void set({ name })}
				/>
				<div class="pair-of-fields">
					<Metres
						label="Length"
						value={values.length_m}
						onKeep={(length_m) => set({ length_m })}
						onFault={noteFault("Length")}
					/>
					<Metres
						label="Beam"
						hint={BEAM_HINT}
						value={values.beam_m}
						onKeep={(beam_m) => set({ beam_m })}
						onFault={noteFault("Beam")}
					/>
					<Metres
						label="Draught"
						hint={DRAUGHT_HINT}
						value={values.draught_m}
						onKeep={(draught_m) => set({ draught_m })}
						onFault={noteFault("Draught")}
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
