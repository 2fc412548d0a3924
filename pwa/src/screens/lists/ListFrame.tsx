/** What the lists share: their views, the age of the server's list, and printing. */
import type { ComponentChildren } from "preact";
import { useState } from "preact/hooks";
import { boat } from "../../storage/boat.ts";
import { type Aged, refreshLists } from "../../sync/lists.ts";
import { askedInVain, SyncTrouble } from "../../sync/problem.ts";
import { syncState } from "../../sync/state.ts";
import { Icon } from "../../ui/Icon.tsx";
import { Notice } from "../../ui/Notice.tsx";
import { address } from "../../ui/router.ts";
import { Screen } from "../../ui/Screen.tsx";
import { ago, count } from "../../ui/words.ts";
import { PATHS } from "../paths.ts";
import "./lists.css";

const VIEWS = [
	[PATHS.left, "Left"],
	[PATHS.work, "Work"],
	[PATHS.waste, "Waste"],
	[PATHS.renewals, "Renewals"],
	[PATHS.masses, "Masses"],
	[PATHS.scrap, "Scrap"],
	[PATHS.back, "Put back"],
] as const;

export type ListName =
	| "left"
	| "work"
	| "back"
	| "waste"
	| "quantities"
	| "renewals"
	| "order"
	| "masses"
	| "scrap";

interface Props {
	title: string;
	name: ListName;
	aged: Aged<unknown> | undefined;
	/** For the addresses of the printed list, like `rule_set=eu&holder=household`. */
	query?: string;
	/** What stands in place of the two usual buttons. */
	printing?: ComponentChildren;
	children: ComponentChildren;
}

export function ListFrame({ title, name, aged, query, printing, children }: Props) {
	return (
		<Screen title={title} above={<Views />}>
			<Age aged={aged} />
			{children}
			{printing ?? <Printing name={name} query={query ?? ""} />}
		</Screen>
	);
}

function Views() {
	return (
		<nav class="views" aria-label="Lists">
			{VIEWS.map(([path, word]) => (
				<a key={path} href={path} aria-current={currentOf(path)}>
					{word}
				</a>
			))}
		</nav>
	);
}

/** The view itself, or one that its list leads on to. */
function currentOf(view: string): "page" | "true" | undefined {
	const { path } = address.value;
	if (path === view) return "page";
	return path.startsWith(`${view}/`) ? "true" : undefined;
}

/** How old the server's list is, and what it does not contain yet. */
function Age({ aged }: { aged: Aged<unknown> | undefined }) {
	const [asking, setAsking] = useState(false);
	const [fault, setFault] = useState<string | null>(null);
	const refresh = async (): Promise<void> => {
		if (asking) return;
		setAsking(true);
		setFault(null);
		try {
			await refreshLists();
		} catch (error) {
			setFault(error instanceof SyncTrouble ? askedInVain(error.problem) : String(error));
		} finally {
			setAsking(false);
		}
	};
	return (
		<div class="age">
			<p>{ageWords(aged)}</p>
			<button type="button" class="button button-quiet" onClick={() => void refresh()}>
				{asking ? "Asking the server" : "Make it anew"}
			</button>
			{fault && (
				<Notice sort="asks" role="status">
					{fault}
				</Notice>
			)}
		</div>
	);
}

function ageWords(aged: Aged<unknown> | undefined): string {
	if (!aged) return "The server has not sent this list to this phone yet.";
	const { unsentChanges, clockOffsetMs } = syncState.value;
	const made = ago(Date.parse(aged.madeAt), Date.now() + clockOffsetMs);
	if (unsentChanges === 0) return `Made by the server ${made}.`;
	return `Made by the server ${made}; ${count(unsentChanges, "edit")} on this phone not in it yet.`;
}

/** Lists that the server also writes as a workbook. */
const WORKBOOKS: ReadonlySet<ListName> = new Set<ListName>(["left", "renewals"]);

function Printing({ name, query }: { name: ListName; query: string }) {
	const key = boat.key.value;
	if (!key) return null;
	const base = `/api/boats/${key}/lists/${name}`;
	const end = query ? `?${query}` : "";
	return (
		<section class="part">
			<h2>Print</h2>
			<div class="buttons">
				<a class="button" href={`${base}.pdf${end}`} target="_blank" rel="noreferrer">
					<Icon name="print" /> Print (PDF)
				</a>
				<a class="button" href={`${base}.csv${end}`} download={`${name}.csv`}>
					Table (CSV)
				</a>
				{WORKBOOKS.has(name) && (
					<a class="button" href={`${base}.xlsx${end}`} download={`${name}.xlsx`}>
						Workbook (XLSX)
					</a>
				)}
			</div>
			<p class="part-note">The server prints, so this needs a connection to it.</p>
		</section>
	);
}
