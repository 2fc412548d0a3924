/** Every value that two phones wrote without sight of each other; one tap settles each. */
import { useState } from "preact/hooks";
import { openClashes } from "../../sync/clashes.ts";
import { session } from "../../sync/session.ts";
import { syncState } from "../../sync/state.ts";
import { Notice } from "../../ui/Notice.tsx";
import { Screen } from "../../ui/Screen.tsx";
import { ago, count } from "../../ui/words.ts";
import { keepOrSay } from "../common/keeping.ts";
import { PATHS } from "../paths.ts";
import { BinDispute } from "./BinDispute.tsx";
import { type Dispute, disputesOf } from "./disputes.ts";
import { FieldDispute } from "./FieldDispute.tsx";
import { NextTagOffer } from "./NextTagOffer.tsx";
import { editOf, type Settle } from "./settle.ts";
import { TagDispute } from "./TagDispute.tsx";
import "./clashes.css";

export function Clashes() {
	const [settled, setSettled] = useState<ReadonlySet<string>>(new Set());
	const [said, setSaid] = useState<string | null>(null);
	const [fault, setFault] = useState<string | null>(null);
	const [without, setWithout] = useState<readonly string[]>([]);
	const open = disputesOf(openClashes.value).filter((one) => !settled.has(nameOf(one)));
	const settleOf =
		(dispute: Dispute): Settle =>
		async (side, words, tagless) => {
			const edit = editOf(dispute, side.value);
			const why = edit ? await keepOrSay([edit]) : NEWER;
			setFault(why);
			if (why) return;
			setSettled(new Set([...settled, nameOf(dispute)]));
			setSaid(words);
			if (tagless) setWithout([...without, ...tagless]);
		};
	return (
		<Screen title="Clashes" under={heading(open.length)} backTo={PATHS.boat}>
			{said && (
				<Notice sort="done" role="status">
					{said} Kept on this phone; the other values stay in the history.
				</Notice>
			)}
			{fault && (
				<Notice sort="danger" role="alert">
					{fault}
				</Notice>
			)}
			{without.map((target) => (
				<NextTagOffer
					key={target}
					target={target}
					onDone={() => setWithout(without.filter((other) => other !== target))}
				/>
			))}
			{open.length === 0 ? (
				<Nothing />
			) : (
				<ul class="clashes">
					{open.map((dispute) => (
						<OneDispute key={nameOf(dispute)} dispute={dispute} settle={settleOf(dispute)} />
					))}
				</ul>
			)}
			<p class="part part-note">{asOf()}</p>
		</Screen>
	);
}

const NEWER =
	"A newer version of the app wrote this, and this version can't settle it. Nothing was changed. " +
	"Load the new version when it is offered, or settle it on the other phone.";

function OneDispute({ dispute, settle }: { dispute: Dispute; settle: Settle }) {
	if (dispute.sort === "tag") return <TagDispute dispute={dispute} settle={settle} />;
	if (dispute.sort === "bin") return <BinDispute dispute={dispute} settle={settle} />;
	return <FieldDispute dispute={dispute} settle={settle} />;
}

function Nothing() {
	return (
		<div class="empty part-tight">
			<h2>Nothing to settle</h2>
			<p>
				When two phones write different things before they have seen each other, both are kept and
				stand here until somebody says which one holds.
			</p>
		</div>
	);
}

function heading(open: number): string {
	if (open === 0) return "";
	return `${count(open, "question")}: two phones wrote different things before they had seen each other.`;
}

/** The server finds clashes, so the list is as old as the last talk with it. */
function asOf(): string {
	const { lastSyncedAt } = syncState.value;
	if (!session.value.paired || lastSyncedAt === null)
		return "The server finds the clashes; this phone has not heard from it yet.";
	return `As the server had it ${ago(lastSyncedAt, Date.now())}.`;
}

function nameOf({ table, key, field, sides }: Dispute): string {
	return `${table}/${key}/${field}/${sides.map(({ stamp }) => stamp).join()}`;
}
