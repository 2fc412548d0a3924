/** The boat itself and everything that is set up once: compartments, shed, tags, phones. */
import { useState } from "preact/hooks";
import { boat, newKey } from "../../storage/boat.ts";
import { settings } from "../../storage/settings.ts";
import { openClashes } from "../../sync/clashes.ts";
import { chooseBoat, session } from "../../sync/session.ts";
import { reserve } from "../../sync/tags.ts";
import { SelectField } from "../../ui/Field.tsx";
import { go } from "../../ui/router.ts";
import { Screen } from "../../ui/Screen.tsx";
import { count } from "../../ui/words.ts";
import { disputesOf } from "../clashes/disputes.ts";
import { theBoat } from "../common/drawn.ts";
import { History } from "../common/History.tsx";
import { keepOrSay } from "../common/keeping.ts";
import { standingWords } from "../common/standing.ts";
import { PATHS } from "../paths.ts";
import { BoatFields } from "./BoatFields.tsx";

export function BoatScreen() {
	const record = theBoat();
	const compartments = boat.table("compartment").value;
	const places = boat.table("place").value;
	const clashes = disputesOf(openClashes.value).length;
	return (
		<Screen title={record?.name ?? "Boat"} under={measures()}>
			<nav class="rows" aria-label="Boat and shed">
				<Way href={PATHS.walkRound} name="Walk round" under="List what is aboard, place by place" />
				<Way
					href={PATHS.compartments}
					name="Compartments"
					under={count(compartments.size, "compartment")}
				/>
				<Way href={PATHS.places} name="Shelves and crates" under={count(places.size, "place")} />
				<Way
					href={PATHS.lifts}
					name="Lifts"
					under={count(boat.table("lift").value.size, "lift planned", "lifts planned")}
				/>
				<Way href={PATHS.trim} name="Trim" under="How she will float at launch" />
				<Way
					href={PATHS.tanks}
					name="Tanks"
					under={count(boat.table("tank").value.size, "tank described", "tanks described")}
				/>
				<Way
					href={PATHS.tags}
					name="Tags to print"
					under={`${reserve.value.length} codes on this phone`}
				/>
				<Way href={PATHS.kept} name="What is on this phone only" under={standingWords().words} />
				<Way
					href={PATHS.clashes}
					name="Clashes"
					under={clashes === 0 ? "Nothing to settle" : `${clashes} to settle`}
				/>
				<Way href={PATHS.bin} name="The bin" under="Take things back out of it" />
				<Way href={PATHS.devices} name="Phones" under="Invite another phone, or shut one out" />
				<Way href={PATHS.storage} name="Storage of this phone" under={sendingWords()} />
			</nav>
			<div class="buttons">
				<AddAboard />
			</div>
			<section class="part">
				<h2>About the boat</h2>
				<BoatFields />
			</section>
			{record && <History of={[["boat", record.key]]} />}
			<OtherBoats />
		</Screen>
	);
}

function Way({ href, name, under }: { href: string; name: string; under: string }) {
	return (
		<a class="row" href={href}>
			<span class="row-main">
				<span class="row-title">{name}</span>
				<span class="row-under">{under}</span>
			</span>
		</a>
	);
}

function measures(): string {
	const record = theBoat();
	const parts = [
		record?.hull ?? "",
		record?.built ? `built ${record.built}` : "",
		record?.length_m ? `${record.length_m} m long` : "",
		record?.beam_m ? `${record.beam_m} m beam` : "",
	];
	return parts.filter(Boolean).join(", ");
}

function sendingWords(): string {
	return settings.value.sendPhotosOn === "any"
		? "Photographs go out over any line"
		: "Photographs go out over Wi-Fi only";
}

/** Walking round: an item that is still aboard, listed before the first screw is turned. */
function AddAboard() {
	const add = async (): Promise<void> => {
		const key = newKey();
		const set = { whereabouts: "aboard", fate: "undecided" } as const;
		if (!(await keepOrSay([{ table: "item", key, set }]))) go(PATHS.editItem(key));
	};
	return (
		<button type="button" class="button button-wide" onClick={() => void add()}>
			List an item that is still aboard
		</button>
	);
}

function OtherBoats() {
	const [chosen, setChosen] = useState(boat.key.value ?? "");
	const { boats } = session.value;
	return (
		<section class="part">
			<h2>Other boats</h2>
			{boats.length > 1 && (
				<SelectField
					label="Boat to work on"
					value={chosen}
					onChange={(key) => {
						setChosen(key);
						void chooseBoat(key);
					}}
				>
					{boats.map(({ key, name }) => (
						<option key={key} value={key}>
							{name || "Unnamed boat"}
						</option>
					))}
				</SelectField>
			)}
			<div class="buttons">
				<a class="button" href={PATHS.newBoat}>
					Begin another boat
				</a>
			</div>
		</section>
	);
}
