/** One line of the order: how far it is, what to pay, how it is cut, its new parts and leftovers. */
import { newPartOf, ownItems } from "../../domain/buying.ts";
import type { Item, OrderLine } from "../../domain/contract.ts";
import { codesOn, itemName } from "../../domain/names.ts";
import { isOut } from "../../domain/recount.ts";
import { shown } from "../../domain/tag.ts";
import { boat } from "../../storage/boat.ts";
import { rules } from "../../storage/rules.ts";
import { TextField } from "../../ui/Field.tsx";
import { Growing } from "../../ui/Growing.tsx";
import { Screen } from "../../ui/Screen.tsx";
import { State } from "../../ui/State.tsx";
import { Code } from "../../ui/Tag.tsx";
import { keepOrSay } from "../common/keeping.ts";
import { PATHS } from "../paths.ts";
import { CutPart } from "./CutPart.tsx";
import { LeftoversOf } from "./Leftovers.tsx";
import {
	asksOf,
	costWords,
	isRun,
	orderLine,
	piecesOf,
	shortSpec,
	withoutNewPart,
} from "./lines.ts";
import { OfferForm } from "./OfferForm.tsx";
import { StepChoice } from "./StepButtons.tsx";

export function LineScreen({ id }: { id: string }) {
	const line = orderLine(id);
	if (!line) return <NoLine />;
	return (
		<Screen
			title={shortSpec(line)}
			under={`${piecesOf(line)}, ${costWords(line)}`}
			backTo={PATHS.order}
		>
			{line.standard && <p class="part-note">Ask for: {line.standard}.</p>}
			<div class="buttons">
				<a class="button" href={PATHS.spec(id)}>
					Say what to buy
				</a>
			</div>
			<StepChoice line={line} />
			{asksOf(line).length > 0 && (
				<section class="part">
					<h2>Look at this first</h2>
					{asksOf(line).map((ask) => (
						<p class="small part-tight" key={ask}>
							<State is="waits">{ask}</State>
						</p>
					))}
				</section>
			)}
			{line.details.length > 0 && (
				<section class="part">
					<h2>What is asked for</h2>
					{line.details.map((say) => (
						<p class="small part-tight" key={say}>
							{say}
						</p>
					))}
				</section>
			)}
			<OfferForm line={line} />
			<Instead line={line} />
			<CutPart line={line} />
			{isRun(line) && <LeftoversOf line={line} />}
			<NewParts line={line} />
		</Screen>
	);
}

export function NoLine() {
	return (
		<Screen title="This line is not on the list of this phone" backTo={PATHS.renewals}>
			<p>
				What was fixed and priced for it is kept. The list comes anew with the next answer of the
				server; a line that changed its size or kind is there under its new name.
			</p>
			<div class="buttons">
				<a class="button" href={PATHS.renewals}>
					Renewals
				</a>
			</div>
		</Screen>
	);
}

/** What may be taken in its place, and who is asked for it. */
function Instead({ line }: { line: OrderLine }) {
	const purchase = boat.table("purchase").value.get(line.id);
	const spec = boat.table("spec").value.get(line.id);
	const words = shortSpec(line).slice(0, 200);
	return (
		<section class="part">
			<TextField
				label="May be replaced by"
				value={spec?.substitute ?? ""}
				longest={200}
				hint="What you take if they have none of it."
				onKeep={(text) =>
					void keepOrSay([
						{ table: "spec", key: line.id, set: { line: words, substitute: text || null } },
					])
				}
			/>
			<TextField
				label="Bought from"
				value={purchase?.supplier ?? ""}
				longest={200}
				hint="Left empty, the supplier of the price that you take."
				onKeep={(text) =>
					void keepOrSay([
						{ table: "purchase", key: line.id, set: { line: words, supplier: text || null } },
					])
				}
			/>
		</section>
	);
}

/** The new parts with their tags, and the old ones that have none yet. */
function NewParts({ line }: { line: OrderLine }) {
	const items = boat.table("item").value;
	const own = ownItems(line, items);
	if (own.length === 0) return null;
	const waiting = withoutNewPart(line).length;
	return (
		<section class="part">
			<h2>New parts</h2>
			<p class="part-note">
				{waiting === own.length
					? "When one has come, hang a tag on it: it takes the old one's place in “Put back”."
					: waiting === 0
						? "Every old one has its new part."
						: `${own.length - waiting} of ${own.length} are here with a tag.`}
			</p>
			<div class="rows">
				<Growing of={own}>
					{(old) => <OldAndNew key={old.key} old={old} part={newPartOf(items, old.key)} />}
				</Growing>
			</div>
		</section>
	);
}

function OldAndNew({ old, part }: { old: Item; part: Item | null }) {
	const [code] = codesOn(boat.table("tag").value, `item/${part?.key ?? old.key}`);
	return (
		<div class="row">
			<span class="row-main">
				<a class="row-title" href={PATHS.item(part?.key ?? old.key)}>
					{itemName(part ?? old, rules.value)}
				</a>
				<span class="row-under">{part ? "new" : "the old one"}</span>
				<span class="tag-line">
					{code && <Code>{shown(code)}</Code>}
					{part && (
						<State is={isOut(part) ? "waits" : "out"}>
							{isOut(part) ? "Here, not in yet" : "In its place"}
						</State>
					)}
				</span>
			</span>
			{!part && (
				<a
					class="button"
					href={PATHS.newPart(old.key)}
					aria-label={`New part for ${itemName(old, rules.value)}`}
				>
					New part
				</a>
			)}
		</div>
	);
}
