/** Bringing in the rescue file of a phone that can't send by itself, and what became of it. */
import { useState } from "preact/hooks";
import { SyncTrouble } from "../../sync/problem.ts";
import { importRescue, isOfOtherServer, type RescueReport } from "../../sync/rescue.ts";
import { syncNow, syncState } from "../../sync/state.ts";
import { Icon } from "../../ui/Icon.tsx";
import { Notice } from "../../ui/Notice.tsx";
import { count, sentence } from "../../ui/words.ts";
import { FileButton } from "../common/FileButton.tsx";
import { SaveUnsent } from "../common/SaveUnsent.tsx";
import { waitingWords } from "../common/standing.ts";

/** Why nothing was brought in; `again` is a file that comes in once the person means it. */
interface Refusal {
	readonly words: string;
	readonly again: File | null;
}

export function BringIn() {
	const [busy, setBusy] = useState<string | null>(null);
	const [report, setReport] = useState<RescueReport | null>(null);
	const [refusal, setRefusal] = useState<Refusal | null>(null);
	const bringIn = async (file: File, meant = false): Promise<void> => {
		setRefusal(null);
		setReport(null);
		setBusy(file.name);
		try {
			setReport(await importRescue(file, meant));
			void syncNow();
		} catch (error) {
			if (!(error instanceof SyncTrouble)) throw error;
			setRefusal({ words: wordsOf(error), again: isOfOtherServer(error) ? file : null });
		} finally {
			setBusy(null);
		}
	};
	return (
		<section class="part">
			<h2>Rescued work</h2>
			<p class="part-note">
				A phone that was shut out, or can't reach the server, saves its unsent work as a file under
				“What is on this phone only”. Bring that file in here; twice does no harm.
			</p>
			<div class="buttons">
				<FileButton
					class="button button-wide"
					accept=".zip,application/zip"
					label="Rescue file of a phone"
					onFile={(file) => void bringIn(file)}
				>
					<Icon name="file" /> Bring in a rescue file
				</FileButton>
			</div>
			{busy && (
				<Notice sort="plain" role="status">
					{busy} is being brought in.
				</Notice>
			)}
			{report && <Report report={report} />}
			{refusal && <Refused refusal={refusal} onAgain={(file) => void bringIn(file, true)} />}
			{waitingWords(syncState.value) && <SaveUnsent />}
		</section>
	);
}

function Refused(props: { refusal: Refusal; onAgain: (file: File) => void }) {
	const { words, again } = props.refusal;
	return (
		<Notice sort="asks" word="Nothing was brought in" role="alert">
			{words}
			{again && (
				<div class="buttons">
					<button type="button" class="button" onClick={() => props.onAgain(again)}>
						Bring it in all the same
					</button>
				</div>
			)}
		</Notice>
	);
}

/** The server's own words where it judged the file; else why it was not reached. */
function wordsOf({ answer, problem }: SyncTrouble): string {
	if (answer?.title) return `${answer.title}. ${answer.detail} The file is as it was.`;
	return `${problem.happened} The file is as it was. ${problem.todo}`;
}

/** A digest in full says nothing to a person; its beginning is enough to tell two apart. */
const DIGEST = /[0-9a-f]{64}/g;

function shortened(digest: string): string {
	return `${digest.slice(0, 8)}…`;
}

function Report({ report }: { report: RescueReport }) {
	const { accepted, repeated, rejected, photosKept, photosKnown, photosRefused, damaged } = report;
	const whole = rejected.length + photosRefused.length + damaged.length === 0;
	return (
		<>
			<Notice sort="done" word="Brought in" role="status">
				New on the server: {count(accepted, "edit")} and {count(photosKept, "photograph")}.
				{repeated + photosKnown > 0 &&
					` There before: ${count(repeated, "edit")} and ${count(photosKnown, "photograph")}.`}
			</Notice>
			{!whole && (
				<Notice sort="danger" word="Not brought in" role="alert">
					<ul>
						{rejected.map(({ id, why }) => (
							<li key={`${id} ${why}`}>An edit: {why}</li>
						))}
						{photosRefused.map(({ sha256, why }) => (
							<li key={sha256}>A photograph: {why}</li>
						))}
						{damaged.map((what) => (
							<li key={what}>{sentence(what.replaceAll(DIGEST, shortened))}</li>
						))}
					</ul>
					<p class="part-tight">
						The rest is in. Keep the file, and the phone it came from, until this is settled.
					</p>
				</Notice>
			)}
		</>
	);
}
