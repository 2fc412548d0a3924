/** Bringing in the rescue file of a phone that can't send by itself, and what became of it. */
import { useState } from "preact/hooks";
import { SyncTrouble } from "../../sync/problem.ts";
import { importRescue, type RescueReport } from "../../sync/rescue.ts";
import { syncNow, syncState } from "../../sync/state.ts";
import { Icon } from "../../ui/Icon.tsx";
import { Notice } from "../../ui/Notice.tsx";
import { count } from "../../ui/words.ts";
import { FileButton } from "../common/FileButton.tsx";
import { SaveUnsent } from "../common/SaveUnsent.tsx";
import { waitingWords } from "../common/standing.ts";

export function BringIn() {
	const [busy, setBusy] = useState<string | null>(null);
	const [report, setReport] = useState<RescueReport | null>(null);
	const [fault, setFault] = useState<string | null>(null);
	const bringIn = async (file: File): Promise<void> => {
		setFault(null);
		setReport(null);
		setBusy(file.name);
		try {
			setReport(await importRescue(file));
			void syncNow();
		} catch (error) {
			if (!(error instanceof SyncTrouble)) throw error;
			const { happened, todo } = error.problem;
			setFault(`${happened} The file is as it was. ${todo}`);
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
			{fault && (
				<Notice sort="danger" word="Nothing was brought in" role="alert">
					{fault}
				</Notice>
			)}
			{waitingWords(syncState.value) && <SaveUnsent />}
		</section>
	);
}

function Report({ report }: { report: RescueReport }) {
	const { accepted, repeated, rejected, photosKept, photosRefused, damaged } = report;
	const whole = rejected.length + photosRefused.length + damaged.length === 0;
	return (
		<>
			<Notice sort="done" word="Brought in" role="status">
				{count(accepted, "edit")} and {count(photosKept, "photograph")} are on the server now.
				{repeated > 0 && ` ${count(repeated, "edit")} had been there before.`}
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
							<li key={what}>{what}</li>
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
