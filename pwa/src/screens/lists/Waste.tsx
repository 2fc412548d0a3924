/** Waste by stream, from the server's list; the questions that only a person can answer come first. */
import type { WasteList } from "../../domain/contract.ts";
import { boat } from "../../storage/boat.ts";
import { rules } from "../../storage/rules.ts";
import { lists } from "../../sync/lists.ts";
import { Choice } from "../../ui/Choice.tsx";
import { SelectField } from "../../ui/Field.tsx";
import { Notice } from "../../ui/Notice.tsx";
import { daysInWords } from "../../ui/words.ts";
import { Mixed } from "../boxes/Mixed.tsx";
import { theBoat } from "../common/drawn.ts";
import { keepOrSay } from "../common/keeping.ts";
import { LocalRulesState } from "../common/LocalRulesState.tsx";
import { PATHS } from "../paths.ts";
import { ListFrame } from "./ListFrame.tsx";
import { spreadWords } from "./Mass.tsx";
import { Questions } from "./Questions.tsx";
import { Stream } from "./Stream.tsx";
import { NoListYet, Totals } from "./Totals.tsx";
import { WastePrinting } from "./WastePrinting.tsx";

export function Waste() {
	const aged = lists.value.waste;
	const record = theBoat();
	const query = new URLSearchParams();
	if (record?.rule_set) query.set("rule_set", record.rule_set);
	if (record?.holder) query.set("holder", record.holder);
	return (
		<ListFrame
			title="Waste"
			name="waste"
			aged={aged}
			printing={<WastePrinting query={query.toString()} />}
		>
			<div class="buttons">
				<a class="button" href={PATHS.boxes}>
					Containers
				</a>
				<a class="button" href={PATHS.handovers}>
					Handovers
				</a>
			</div>
			{aged ? (
				<WasteOf list={aged.list} />
			) : (
				<NoListYet title="No waste list on this phone yet">
					The server sorts waste by the rules of the place.
				</NoListYet>
			)}
		</ListFrame>
	);
}

function WasteOf({ list }: { list: WasteList }) {
	return (
		<>
			<Totals of={{ "ashore and aboard": list.on_site, gone: list.gone }} range={spreadWords} />
			<a class="row" href={PATHS.quantities}>
				<span class="row-main">
					<span class="row-title">Over the months</span>
					<span class="row-under">What came up and went, limits, and by when it must go</span>
				</span>
			</a>
			<RuleSet list={list} />
			{/* A list kept from an earlier server has none. */}
			<Mixed bans={list.mixed ?? []} mixings={[]} />
			<Questions questions={list.questions} />
			<section class="part">
				<h2>Streams</h2>
				{list.streams.length === 0 && <p class="part-note">Nothing is waste so far.</p>}
				<div class="rows">
					{list.streams.map((stream) => (
						<Stream key={stream.id} stream={stream} all={list.streams} />
					))}
				</div>
			</section>
			<p class="standing-words">{list.standing}</p>
			{list.notes?.length > 0 && (
				<section class="part">
					<h2>What these rules say besides</h2>
					{list.notes.map((note) => (
						<p class="part-note small" key={note}>
							{note}
						</p>
					))}
				</section>
			)}
		</>
	);
}

/** Which rules apply belongs to the boat, so a choice here is an edit of the boat. */
function RuleSet({ list }: { list: WasteList }) {
	const record = theBoat();
	const key = boat.key.value;
	if (!key) return null;
	const set = (values: {
		rule_set?: string;
		rule_area?: null;
		holder?: "household" | "business" | null;
	}): void => {
		void keepOrSay([{ table: "boat", key, set: values }]);
	};
	const ruleSet = record?.rule_set ?? list.rule_set;
	const holder = record?.holder ?? list.holder;
	const differs = ruleSet !== list.rule_set || holder !== list.holder;
	return (
		<details class="fold" open={differs}>
			<summary>
				<span class="row-main">
					<span class="row-under">Under the rules of</span>
					{list.rule_set_name}, {list.holder}
					{list.edition && <span class="row-under">Edition of {daysInWords(list.edition)}</span>}
				</span>
			</summary>
			<LocalRulesState />
			<SelectField
				label="Rule set"
				value={ruleSet}
				onChange={(rule_set) => set({ rule_set, rule_area: null })}
			>
				{rules.value?.rule_sets.map(({ id, name }) => (
					<option key={id} value={id}>
						{name}
					</option>
				))}
			</SelectField>
			<Choice
				name="holder"
				legend="Whose waste it is"
				options={[
					{ value: "household", label: "Household" },
					{ value: "business", label: "Business" },
				]}
				value={holder as "household" | "business"}
				onChange={(next) => set({ holder: next })}
			/>
			{differs && (
				<Notice sort="asks" role="status">
					The list below is still the one for {list.rule_set_name}, {list.holder}. The server makes
					it anew when this phone reaches it.
				</Notice>
			)}
		</details>
	);
}
