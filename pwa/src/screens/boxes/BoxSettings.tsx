/** What a container is: name, sort, stream, size, limits, tare, how full it looks, place, tag. */
import { useState } from "preact/hooks";
import { SORTS } from "../../domain/boxing.ts";
import type { Container } from "../../domain/contract.ts";
import { boat } from "../../storage/boat.ts";
import { rules } from "../../storage/rules.ts";
import { Choice } from "../../ui/Choice.tsx";
import { SelectField, TextField } from "../../ui/Field.tsx";
import { OpensChoice } from "../../ui/LabelledInput.tsx";
import { Notice } from "../../ui/Notice.tsx";
import { keepOrSay } from "../common/keeping.ts";
import { PickSheet } from "../common/PickSheet.tsx";
import { TagEntry } from "../common/TagEntry.tsx";
import { placeWords } from "../common/whereItStands.ts";
import { NumberField } from "../tank/NumberField.tsx";

const LOOKS = [
	{ value: "0", label: "Empty" },
	{ value: "25", label: "¼" },
	{ value: "50", label: "½" },
	{ value: "75", label: "¾" },
	{ value: "100", label: "Full" },
] as const;

export function BoxSettings({ box, codes }: { box: Container; codes: readonly string[] }) {
	const [moving, setMoving] = useState(false);
	const [fault, setFault] = useState<string | null>(null);
	const set = async (values: Partial<Omit<Container, "key">>): Promise<void> =>
		setFault(await keepOrSay([{ table: "container", key: box.key, set: values }]));
	const places = boat.table("place").value;
	const looks = box.filled_percent === null ? null : String(box.filled_percent);
	return (
		<section class="part">
			<h2>About it</h2>
			<Choice
				name="looks"
				legend="How full it looks"
				options={LOOKS}
				value={LOOKS.find(({ value }) => value === looks)?.value ?? null}
				onChange={(next) => void set({ filled_percent: next === null ? null : Number(next) })}
			/>
			<TextField
				label="Name"
				value={box.name ?? ""}
				longest={200}
				onKeep={(name) => {
					void set({ name: name || null });
					return null;
				}}
			/>
			<SortField value={box.sort} onKeep={(sort) => void set({ sort })} />
			<StreamField value={box.stream ?? ""} onKeep={(stream) => void set({ stream })} />
			<div class="pair-of-fields">
				<NumberField
					label="Holds, L"
					value={box.capacity_l}
					high={100_000}
					onKeep={(capacity_l) => void set({ capacity_l })}
				/>
				<NumberField
					label="May hold, kg"
					value={box.limit_kg}
					high={100_000}
					onKeep={(limit_kg) => void set({ limit_kg })}
				/>
			</div>
			<NumberField
				label="Weighs empty, kg"
				value={box.tare_kg}
				high={100_000}
				onKeep={(tare_kg) => void set({ tare_kg })}
			/>
			<OpensChoice
				label="Stands in"
				chosen={placeWords(box.place) || "No place yet"}
				word="Move"
				onOpen={() => setMoving(true)}
			/>
			{moving && (
				<PickSheet
					title="Where it stands"
					nodes={places}
					picked={box.place}
					none="No place yet"
					onPick={(place) => {
						setMoving(false);
						void set({ place });
					}}
					onClose={() => setMoving(false)}
				/>
			)}
			<TagEntry on={`container/${box.key}`} codes={codes} />
			{fault && (
				<Notice sort="asks" role="alert">
					{fault}
				</Notice>
			)}
		</section>
	);
}

export function SortField(props: { value: string | null; onKeep: (sort: string | null) => void }) {
	const own = props.value !== null && !SORTS.some((sort) => sort === props.value);
	const [other, setOther] = useState(own);
	return (
		<>
			<SelectField
				label="Sort of container"
				value={other ? "other" : (props.value ?? "")}
				onChange={(next) => {
					setOther(next === "other");
					if (next !== "other") props.onKeep(next || null);
				}}
			>
				<option value="">Not said</option>
				{SORTS.map((sort) => (
					<option key={sort} value={sort}>
						{sort}
					</option>
				))}
				<option value="other">in other words</option>
			</SelectField>
			{other && (
				<TextField
					label="In your words"
					value={own ? (props.value ?? "") : ""}
					longest={200}
					onKeep={(sort) => {
						props.onKeep(sort || null);
						return null;
					}}
				/>
			)}
		</>
	);
}

export function StreamField(props: { value: string; onKeep: (stream: string | null) => void }) {
	const streams = rules.value?.streams ?? [];
	const known = streams.some(({ id }) => id === props.value);
	return (
		<SelectField
			label="For which waste"
			value={props.value}
			onChange={(next) => props.onKeep(next || null)}
		>
			<option value="">Not said yet</option>
			{!known && props.value !== "" && <option value={props.value}>{props.value}</option>}
			{streams.map(({ id, name }) => (
				<option key={id} value={id}>
					{name}
				</option>
			))}
		</SelectField>
	);
}
