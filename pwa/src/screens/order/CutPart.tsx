/** How a line is cut from its reels, and what of each is left over. */
import type { OrderLine, SheetStock } from "../../domain/contract.ts";
import { shown } from "../../domain/tag.ts";
import { Code } from "../../ui/Tag.tsx";
import { PATHS } from "../paths.ts";
import { nearness } from "./cutWords.ts";
import { metres, stateOn } from "./lines.ts";

/** Shorter than a hand is no length to keep. */
const WORTH_KEEPING_MM = 100;

export function CutPart({ line }: { line: OrderLine }) {
	const { cut } = line;
	if (!cut) return null;
	const left = cut.stock.filter(({ left_mm }) => left_mm >= WORTH_KEEPING_MM);
	return (
		<section class="part">
			<h2>How it is cut</h2>
			<p class="part-note">{nearness(cut)}</p>
			{cut.stock.map((one, at) => (
				<Reel key={at} one={one} />
			))}
			{cut.by_metre.length > 0 && <p class="strong part-tight">By the metre, cut by the seller</p>}
			<ul class="steps small">
				{cut.by_metre.map((piece, at) => (
					<li key={`${piece.item} ${at}`}>
						{metres(piece.length_mm)} for {piece.name}{" "}
						{piece.tags[0] && <Code>{shown(piece.tags[0])}</Code>}
						{!piece.by_measure && ", not measured yet"}
					</li>
				))}
			</ul>
			{left.length > 0 && stateOn(line) !== "to buy" && (
				<p class="part-note">
					Once it is cut, <a href={PATHS.leftovers}>write down what is left over</a>, and the next
					plan uses it.
				</p>
			)}
			<p class="part-note">
				Lay the old run beside the new one before you cut. The list of the cuts for the bench is
				printed from <a href={PATHS.order}>the order</a>.
			</p>
		</section>
	);
}

function Reel({ one }: { one: SheetStock }) {
	return (
		<>
			<p class="strong part-tight">
				{one.from_shed ? "Length that lies here" : "Reel"}, {metres(one.length_mm)}
				{!one.from_shed && one.name && `, ${one.name}`}
			</p>
			<ol class="steps small">
				{one.pieces.map((piece, at) => (
					<li key={`${piece.item} ${at}`}>
						{metres(piece.length_mm)} for {piece.name}{" "}
						{piece.tags[0] && <Code>{shown(piece.tags[0])}</Code>}
						{!piece.by_measure && ", not measured yet"}
					</li>
				))}
			</ol>
			<p class="part-note">Left over: {metres(one.left_mm)}</p>
		</>
	);
}

/** The lengths that the plans of the order leave over, longest first. */
export function leftByPlans(lines: readonly OrderLine[]): { line: OrderLine; mm: number }[] {
	return lines
		.flatMap((line) => (line.cut?.stock ?? []).map(({ left_mm }) => ({ line, mm: left_mm })))
		.filter(({ mm }) => mm >= WORTH_KEEPING_MM)
		.sort((a, b) => b.mm - a.mm);
}
