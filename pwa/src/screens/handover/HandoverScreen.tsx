/** One handover: its papers and receipt, its list as frozen, and what was corrected since. */
import { useState } from "preact/hooks";
import { shrink } from "../../camera/shrink.ts";
import type { Handover, HandoverView, WasteList } from "../../domain/contract.ts";
import { boat, newKey } from "../../storage/boat.ts";
import { lists } from "../../sync/lists.ts";
import { Icon } from "../../ui/Icon.tsx";
import { Notice } from "../../ui/Notice.tsx";
import { Screen } from "../../ui/Screen.tsx";
import { State } from "../../ui/State.tsx";
import { day, daysInWords, kilograms } from "../../ui/words.ts";
import { Mixed } from "../boxes/Mixed.tsx";
import { FileButton } from "../common/FileButton.tsx";
import { History } from "../common/History.tsx";
import { keepOrSay } from "../common/keeping.ts";
import { Photos } from "../item/Photos.tsx";
import { Mass, rangeWords } from "../lists/Mass.tsx";
import { PATHS } from "../paths.ts";
import { photoFields } from "../takeOut/edits.ts";
import { Corrections } from "./Corrections.tsx";
import { WrittenHere } from "./WrittenHere.tsx";
import "../item/item.css";
import "../boxes/boxes.css";

export function HandoverScreen({ handoverKey: key }: { handoverKey: string }) {
	const record = boat.table("handover").value.get(key);
	if (!record)
		return (
			<Screen title="No such handover on this phone" backTo={PATHS.handovers}>
				<p>It may be in the bin, or another phone made it and has not sent it yet.</p>
			</Screen>
		);
	const view = lists.value.handovers?.list.handovers.find((one) => one.key === key);
	// What was written when it was frozen stands, whatever was edited since.
	const papers = view?.frozen?.papers ?? record;
	const corrections = [...boat.table("correction").value.values()]
		.filter(({ handover }) => handover === key)
		.map((row) => ["correction", row.key] as const);
	return (
		<Screen
			title={papers.to || "Handover"}
			under={papers.on ? day(new Date(papers.on)) : "No day written down"}
			backTo={PATHS.handovers}
		>
			<Papers of={papers} />
			<Receipt target={`handover/${key}`} />
			{view?.faults.map((fault) => (
				<Notice key={`${fault.of} ${fault.say}`} sort="asks">
					{fault.of.startsWith("handover/") ? "" : `${fault.name}: `}
					{fault.say} {fault.do}
				</Notice>
			))}
			<Mixed bans={view?.bans ?? []} mixings={[]} />
			<TheList record={record} view={view} />
			<Corrections handover={key} />
			<History of={[["handover", key], ...corrections]} />
		</Screen>
	);
}

function Papers({ of }: { of: Pick<Handover, "carrier" | "document" | "note"> }) {
	const facts = [
		["Carrier", of.carrier],
		["Document", of.document],
		["Note", of.note],
	].filter(([, value]) => value);
	return (
		<dl class="facts">
			{facts.map(([name, value]) => (
				<Fact key={name} name={name ?? ""} value={value ?? ""} />
			))}
		</dl>
	);
}

function Fact({ name, value }: { name: string; value: string }) {
	return (
		<>
			<dt>{name}</dt>
			<dd>{value}</dd>
		</>
	);
}

function Receipt({ target }: { target: string }) {
	const [fault, setFault] = useState<string | null>(null);
	const photograph = async (file: File): Promise<void> => {
		setFault(null);
		try {
			const picture = await shrink(file);
			const set = photoFields(target, picture, new Date().toISOString());
			setFault(await keepOrSay([{ table: "photo", key: newKey(), set }], [picture]));
		} catch (error) {
			setFault(error instanceof Error ? error.message : String(error));
		}
	};
	return (
		<>
			<div class="buttons">
				<FileButton class="button button-hot" onFile={(file) => void photograph(file)}>
					Photograph the receipt
				</FileButton>
			</div>
			{fault && (
				<Notice sort="asks" role="alert">
					{fault}
				</Notice>
			)}
			<Photos target={target} />
		</>
	);
}

function TheList({ record, view }: { record: Handover; view: HandoverView | undefined }) {
	const [fault, setFault] = useState<string | null>(null);
	const frozen = view?.frozen;
	const waste = frozen?.waste ?? view?.waste;
	const seal = async (): Promise<void> => {
		const set = { sealed_at: new Date().toISOString() };
		setFault(await keepOrSay([{ table: "handover", key: record.key, set }]));
	};
	const paper = `/api/boats/${boat.key.value}/handovers/${record.key}/sheet.pdf`;
	return (
		<section class="part">
			<h2>What went</h2>
			{frozen ? (
				<p class="part-note">
					<State is="out">Frozen</State> by the rules of {frozen.rule_set_name}, edition of{" "}
					{daysInWords(frozen.edition)}. Later edits of things, masses or rules don't change it.
				</p>
			) : record.sealed_at ? (
				<p class="part-note">
					The server freezes the list when this phone reaches it. Until then, this is what was
					written down here.
				</p>
			) : (
				<>
					<p class="part-note">
						This list still follows every edit: it was written before lists were frozen.
					</p>
					<div class="buttons">
						<button type="button" class="button button-hot" onClick={() => void seal()}>
							Freeze its list now
						</button>
					</div>
				</>
			)}
			{fault && (
				<Notice sort="asks" role="alert">
					{fault}
				</Notice>
			)}
			{waste ? <Lines waste={waste} /> : <WrittenHere handover={record.key} />}
			{frozen && (
				<p class="digest">
					Check sum of the frozen list, <span class="whole">SHA-256</span>: {frozen.digest}
				</p>
			)}
			<div class="buttons">
				<a class="button" href={paper} target="_blank" rel="noreferrer">
					<Icon name="print" /> Sheet to sign (PDF)
				</a>
			</div>
		</section>
	);
}

function Lines({ waste }: { waste: WasteList }) {
	return (
		<>
			<p>
				<span class="strong">{kilograms(waste.gone.likely)}</span> in all, {rangeWords(waste.gone)}
			</p>
			<div class="rows">
				{waste.streams.map((stream) => (
					<details key={`${stream.id} ${stream.code}`}>
						<summary>
							<span class="row-main">
								<span class="row-title">{stream.name}</span>
								<span class="row-under stream-code">{stream.code}</span>
								{stream.hazardous && <State is="danger">hazardous</State>}
							</span>
							<Mass of={stream.gone} />
						</summary>
						<div class="inset rows">
							{stream.items.map((item) => (
								<div class="row" key={item.key}>
									<span class="row-main">
										<span class="row-title">
											{item.name}
											{item.count > 1 ? `, ${item.count} pieces` : ""}
										</span>
										<span class="row-under">{item.container ?? "loose"}</span>
									</span>
									<Mass of={item.mass} />
								</div>
							))}
						</div>
					</details>
				))}
			</div>
		</>
	);
}
