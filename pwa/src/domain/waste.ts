/** What the waste list will ask about an item, what warns of it, and which of its answers disagree.
 *
 * The server decides the stream; this is what a phone can say offline, from the same rows. */
import type { Item, JsonValue } from "./contract.ts";
import type {
	AnswerForPhone,
	AskForPhone,
	ContradictionForPhone,
	KindForPhone,
	RulesForPhone,
	StreamForPhone,
	WhenForPhone,
} from "./rules.ts";

/** What is asked of everything that nobody has put a kind to. */
export const UNSORTED = "unsorted";
const BY_SOAK: Readonly<Record<string, string>> = {
	"drying oil": "rag-drying",
	solvent: "rag-solvent",
	fuel: "rag-solvent",
	"mineral oil": "rag-oil",
};

/** The questions that matter for an item under a rule set, the open ones and the answered. */
export function asksOf(
	item: Item,
	kind: KindForPhone | null,
	rules: RulesForPhone | null,
	ruleSet: string | null,
): readonly AskForPhone[] {
	const set = rules?.rule_sets.find(({ id }) => id === ruleSet);
	const law = set?.law ?? ruleSet;
	const found: AskForPhone[] = [];
	for (const stream of streamsOf(item, kind, rules))
		for (const ask of [...stream.asks, ...(set?.asks?.[stream.id] ?? [])]) {
			const holds = ask.only_in.length === 0 || law === null || ask.only_in.includes(law);
			if (holds && ask.field !== "kind" && !found.some(({ field }) => field === ask.field))
				found.push(ask);
		}
	return found;
}

/** The stream of the kind and those that its answers lead to, as far as a phone can tell. */
export function streamsOf(
	item: Item,
	kind: KindForPhone | null,
	rules: RulesForPhone | null,
): readonly StreamForPhone[] {
	const all = new Map(rules?.streams?.map((stream) => [stream.id, stream]) ?? []);
	const own = all.get(kind?.waste ?? UNSORTED);
	if (!own) return [];
	const said = own.answers.find((answer) => given(answer, item));
	const open = own.answers.find((one) => one.or_unanswered && answerOf(item, one.field) === null);
	const soaked = own.id.startsWith("rag-") ? all.get(BY_SOAK[item.soaked_in ?? ""] ?? "") : null;
	const led = all.get((said ?? open)?.stream ?? "");
	return [...new Set([own, led, soaked])].filter((one) => one !== undefined && one !== null);
}

/** Cautions of the kind, then those of the streams that it may belong to; each once. */
export function cautionsOf(
	item: Item,
	kind: KindForPhone | null,
	rules: RulesForPhone | null,
): readonly string[] {
	const given = kind?.cautions ?? [];
	if (!kind) return given;
	return [...new Set([...given, ...streamsOf(item, kind, rules).flatMap((one) => one.cautions)])];
}

/** Answers that can't both be right, or that don't fit the kind. */
export function contradictionsOf(
	item: Item,
	stream: string,
	rows: readonly ContradictionForPhone[],
): readonly ContradictionForPhone[] {
	return rows.filter(
		(row) =>
			(row.streams.length === 0 || row.streams.includes(stream)) &&
			row.when.every((when) => holds(when, item)),
	);
}

/** The stream that contradictions are looked up by: that of the kind alone. */
export function streamOfKind(kind: KindForPhone | null): string {
	return kind?.waste ?? UNSORTED;
}

export function given(answer: AnswerForPhone, item: Item): boolean {
	const value = answerOf(item, answer.field);
	if (answer.above !== null) return typeof value === "number" && value > answer.above;
	return value !== null && answer.values.some((one) => one === value);
}

function holds(when: WhenForPhone, item: Item): boolean {
	const value = answerOf(item, when.field);
	if (value === null) return false;
	if (when.below !== null) return typeof value === "number" && value < when.below;
	if (when.at_least !== null) return typeof value === "number" && value >= when.at_least;
	return when.values.some((one) => one === value);
}

export function answerOf(item: Item, field: string): JsonValue {
	return (item as unknown as Readonly<Record<string, JsonValue | undefined>>)[field] ?? null;
}
