/** Taking out, on one screen without steps: where, which tag, in what condition, shutter. */
import { useEffect, useRef, useState } from "preact/hooks";
import { snap } from "../../camera/capture.ts";
import { shrink } from "../../camera/shrink.ts";
import { pathOf } from "../../domain/tree.ts";
import { boat, newKey } from "../../storage/boat.ts";
import type { KeptPhoto } from "../../storage/photos.ts";
import { Choice } from "../../ui/Choice.tsx";
import { Notice } from "../../ui/Notice.tsx";
import { address, go } from "../../ui/router.ts";
import { CameraExtras } from "../common/CameraExtras.tsx";
import { CompartmentSheet } from "../common/CompartmentSheet.tsx";
import { CONDITIONS } from "../common/choices.ts";
import { keepOrSay } from "../common/keeping.ts";
import { type CameraState, Scanner } from "../common/Scanner.tsx";
import { PATHS } from "../paths.ts";
import { draft, nextDraft, setCompartment, setDraft } from "./draft.ts";
import { type Taken, takeOutEdits, undoEdits } from "./edits.ts";
import { GoOn } from "./GoOn.tsx";
import { type Kept, KeptCard } from "./KeptCard.tsx";
import { NextTag } from "./NextTag.tsx";
import { nextCode } from "./nextCode.ts";
import { OnItsWayOut } from "./OnItsWayOut.tsx";
import { Shutter } from "./Shutter.tsx";
import "./takeOut.css";

/** Letters that fit in one line of the strip at its large size, 390 px wide. */
const LONG_NAME = 22;

export function TakeOut() {
	const [camera, setCamera] = useState<CameraState>({ is: "opening" });
	const [kept, setKept] = useState<Kept | null>(null);
	const [fault, setFault] = useState<string | null>(null);
	const [choosing, setChoosing] = useState(false);
	const scanned = useRef<(code: string) => void>(() => {});
	// A picker that was open when this page was made again: the phone had closed the page behind it.
	const [broken, setBroken] = useState(draft.peek().picking);
	useEffect(() => {
		const { query } = address.peek();
		const item = query.get("item");
		const code = query.get("code");
		if (item) setDraft({ item });
		if (code) setDraft({ code });
		if (item || code) go(PATHS.takeOut, { replace: true });
	}, []);

	const take = async (picture: () => Promise<KeptPhoto>): Promise<void> => {
		setFault(null);
		const made = await takeOneOut(picture);
		if ("fault" in made) setFault(made.fault);
		else {
			setKept(made);
			setBroken(false);
		}
	};
	const undo = async (): Promise<void> => {
		if (!kept) return;
		const why = await keepOrSay(undoEdits(kept.taken));
		setFault(why);
		if (why) return;
		setDraft({
			code: kept.taken.code,
			condition: kept.condition,
			item: kept.taken.before?.key ?? null,
		});
		setKept(null);
	};

	return (
		<main class="take-out">
			<h1 class="spoken">Take out</h1>
			<div class="view">
				<Scanner
					scanning={draft.value.scanning}
					onCode={(code) => scanned.current(code)}
					onCamera={setCamera}
				/>
				<div>
					<WhereItSits onChange={() => setChoosing(true)} />
					{camera.is === "open" && <CameraExtras handle={camera.handle} />}
				</div>
				{camera.is === "refused" && <p class="view-refused">{camera.why}</p>}
				<div class="view-foot">
					{fault && (
						<Notice sort="asks" role="alert">
							{fault}
						</Notice>
					)}
					{broken && <GoOn onDrop={() => setBroken(false)} />}
					<OnItsWayOut />
					{kept && (
						<KeptCard kept={kept} onUndo={() => void undo()} onClose={() => setKept(null)} />
					)}
				</div>
			</div>
			<NextTag
				scanned={scanned}
				justUsed={kept?.taken.code ?? null}
				onFile={(file) => void take(() => shrink(file))}
			/>
			<Choice
				name="condition"
				legend="Condition"
				hot
				clears
				options={CONDITIONS}
				value={draft.value.condition as (typeof CONDITIONS)[number]["value"] | null}
				onChange={(condition) => setDraft({ condition })}
			/>
			<Shutter
				camera={camera}
				onShutter={(handle) => take(() => snap(handle))}
				onFile={(file) => take(() => shrink(file))}
			/>
			{choosing && (
				<CompartmentSheet
					picked={draft.value.compartment}
					recent={draft.value.recent}
					onPick={(key) => {
						setCompartment(key);
						setChoosing(false);
					}}
					onClose={() => setChoosing(false)}
				/>
			)}
		</main>
	);
}

function WhereItSits({ onChange }: { onChange: () => void }) {
	const listed = boat.table("item").value.get(draft.value.item ?? "")?.compartment;
	const names = pathOf(boat.table("compartment").value, listed ?? draft.value.compartment);
	const name = names.at(-1);
	const words = (
		<span class="where-main">
			<span class="small pencil where-path">
				{names.length > 1 ? `Where it sits: ${names.slice(0, -1).join(", ")}` : "Where it sits"}
			</span>
			<span class={(name?.length ?? 0) > LONG_NAME ? "where-name where-long" : "where-name"}>
				{name ?? "Not chosen yet"}
			</span>
		</span>
	);
	// A listed item brings its own compartment; changing that is an edit of the item.
	if (listed && name) return <div class="where">{words}</div>;
	return (
		<button type="button" class="where" onClick={onChange}>
			{words}
			<span class="where-change">{name ? "Change" : "Choose"}</span>
		</button>
	);
}

async function takeOneOut(picture: () => Promise<KeptPhoto>): Promise<Kept | { fault: string }> {
	let photo: KeptPhoto;
	try {
		photo = await picture();
	} catch (error) {
		return { fault: error instanceof Error ? error.message : String(error) };
	}
	const set = draft.value;
	const before = (set.item && boat.table("item").value.get(set.item)) || null;
	const taken: Taken = {
		item: before?.key ?? newKey(),
		photo: newKey(),
		code: nextCode.value?.code ?? null,
		before,
		at: new Date().toISOString(),
	};
	const fault = await keepOrSay(takeOutEdits(taken, set, photo), [photo]);
	if (fault) return { fault };
	nextDraft();
	return { taken, condition: set.condition, at: new Date(), thumbnail: photo.thumbnail };
}
