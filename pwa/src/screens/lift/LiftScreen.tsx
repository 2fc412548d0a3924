/** One lift: what was measured, kept as it is left, and what the server reckons from it. */
import type { Eye, Lift } from "../../domain/contract.ts";
import { itemName } from "../../domain/names.ts";
import { refusedRig } from "../../domain/rig.ts";
import { boat, newKey } from "../../storage/boat.ts";
import { rules } from "../../storage/rules.ts";
import { lists } from "../../sync/lists.ts";
import { TextField } from "../../ui/Field.tsx";
import { Cautions, Notice } from "../../ui/Notice.tsx";
import { Screen } from "../../ui/Screen.tsx";
import { BinButton } from "../common/BinButton.tsx";
import { keepOrSay } from "../common/keeping.ts";
import { PATHS } from "../paths.ts";
import { NumberField } from "../tank/NumberField.tsx";
import { LiftResult } from "./LiftResult.tsx";

const MOST_EYES = 4;

export function LiftScreen({ liftKey }: { liftKey: string }) {
	const lift = boat.table("lift").value.get(liftKey);
	if (!lift)
		return (
			<Screen title="This lift is not here" backTo={PATHS.lifts}>
				<p>It may be in the bin, or another phone has not sent it yet.</p>
			</Screen>
		);
	const item = boat.table("item").value.get(lift.of ?? "");
	const aged = lists.value.lifts;
	const line = aged?.list.lifts.find(({ key }) => key === liftKey);
	const eyes = eyesOf(liftKey);
	// Where parts are bolted to it they may have moved its middle: that is the server's to reckon.
	const whole = [...boat.table("item").value.values()].every(({ part_of }) => part_of !== lift.of);
	const refused = refusedRig(lift, eyes, item, whole ? rules.value?.lifting : undefined);
	return (
		<Screen
			title={lift.name ?? `Lift: ${item ? itemName(item, rules.value) : "item not here"}`}
			backTo={PATHS.lifts}
		>
			<Cautions of={aged?.list.cautions ?? []} />
			<LiftResult line={line} />
			<Measures lift={lift} />
			<Eyes lift={lift} eyes={eyes} />
			{refused && (
				<Notice sort="asks" role="alert">
					Kept, but it can't be lifted so: {refused}
				</Notice>
			)}
			<BinButton table="lift" of={lift.key} after={PATHS.lifts} />
		</Screen>
	);
}

function Measures({ lift }: { lift: Lift }) {
	const set = (values: Partial<Omit<Lift, "key">>): void => {
		void keepOrSay([{ table: "lift", key: lift.key, set: values }]);
	};
	return (
		<section class="part">
			<h2>Where to measure from</h2>
			<TextField
				label="A point of the load"
				value={lift.measured_from ?? ""}
				longest={200}
				hint="Like “flywheel end, bottom of the sump”. Empty: stem, centreline and keel of the boat."
				onKeep={(measured_from) => {
					set({ measured_from: measured_from || null });
					return null;
				}}
			/>
			<p class="part-note">
				With the tape, in metres: aft of that point, to starboard of it (port below 0), up from it.
			</p>
			<h3>Middle of mass</h3>
			<Three of={lift} names={["centre_aft_m", "centre_off_m", "centre_up_m"]} onKeep={set} />
			<NumberField
				label="How far it may be off, m"
				value={lift.centre_sure_m}
				high={5}
				hint="Empty: a tenth of the distance between the eyes."
				onKeep={(centre_sure_m) => set({ centre_sure_m })}
			/>
			<h3>Hook, slings taut</h3>
			<Three of={lift} names={["hook_aft_m", "hook_off_m", "hook_up_m"]} onKeep={set} />
			<p class="part-note">Only its height is needed if it is plumb over the middle of mass.</p>
			<div class="pair-of-fields">
				<NumberField
					label="Hook rated, kg"
					value={lift.hook_rated_kg}
					high={100_000}
					onKeep={(hook_rated_kg) => set({ hook_rated_kg })}
				/>
				<NumberField
					label="Each leg rated, kg"
					value={lift.leg_rated_kg}
					high={100_000}
					onKeep={(leg_rated_kg) => set({ leg_rated_kg })}
				/>
			</div>
		</section>
	);
}

const WAYS = ["Aft, m", "To starboard, m", "Up, m"] as const;

interface ThreeProps<K extends string> {
	of: { readonly [name in K]: number | null };
	names: readonly [K, K, K];
	onKeep: (set: { [name in K]?: number | null }) => void;
}

function Three<K extends string>({ of, names, onKeep }: ThreeProps<K>) {
	return (
		<div class="pair-of-fields">
			{names.map((name, at) => (
				<NumberField
					key={name}
					label={WAYS[at] ?? ""}
					value={of[name]}
					low={-200}
					high={200}
					onKeep={(value) => onKeep({ [name]: value } as { [of in K]?: number | null })}
				/>
			))}
		</div>
	);
}

function eyesOf(lift: string): readonly Eye[] {
	return [...boat.table("eye").value.values()]
		.filter((eye) => eye.lift === lift)
		.sort((a, b) => (a.key < b.key ? -1 : 1));
}

function Eyes({ lift, eyes }: { lift: Lift; eyes: readonly Eye[] }) {
	const add = (): void => {
		const set = { lift: lift.key, name: `Eye ${eyes.length + 1}` };
		void keepOrSay([{ table: "eye", key: newKey(), set }]);
	};
	return (
		<section class="part">
			<h2>Eyes, one for each leg</h2>
			{eyes.map((eye) => (
				<OneEye key={eye.key} eye={eye} />
			))}
			{eyes.length < MOST_EYES ? (
				<div class="buttons">
					<button type="button" class="button button-wide button-hot" onClick={add}>
						Add an eye
					</button>
				</div>
			) : (
				<Notice sort="plain">Four legs are the most that can be reckoned.</Notice>
			)}
		</section>
	);
}

function OneEye({ eye }: { eye: Eye }) {
	const set = (values: Partial<Omit<Eye, "key">>): void => {
		void keepOrSay([{ table: "eye", key: eye.key, set: values }]);
	};
	return (
		<fieldset class="part">
			<legend class="strong">{eye.name ?? "Eye"}</legend>
			<TextField
				label="Name"
				value={eye.name ?? ""}
				longest={200}
				onKeep={(name) => {
					set({ name: name || null });
					return null;
				}}
			/>
			<Three of={eye} names={["aft_m", "off_m", "up_m"]} onKeep={set} />
			<NumberField
				label="Eye rated, kg"
				value={eye.rated_kg}
				high={100_000}
				onKeep={(rated_kg) => set({ rated_kg })}
			/>
			<div class="buttons">
				<button type="button" class="button" onClick={() => set({ binned: true })}>
					Take this eye away
				</button>
			</div>
		</fieldset>
	);
}
