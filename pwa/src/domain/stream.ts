/** The stream of an item by its kind and answers, as the server's `classify.py` finds it. */
import type { Item } from "./contract.ts";
import type { KindForPhone, RulesForPhone, StreamForPhone } from "./rules.ts";
import { answerOf, contradictionsOf, given, streamOfKind, streamsOf, UNSORTED } from "./waste.ts";

const WORST_FIRST = ["rag-drying", "rag-solvent", "rag-oil", "rag-clean"] as const;
const RAG_BY_SOAK: Readonly<Record<string, string>> = {
	"drying oil": "rag-drying",
	solvent: "rag-solvent",
	fuel: "rag-solvent",
	"mineral oil": "rag-oil",
	water: "rag-clean",
	clean: "rag-clean",
};
const SOILED = ["mineral oil", "drying oil", "solvent", "fuel"];

/**
 * The streams that an item counts as when something is put beside it: one, or, where its answers
 * contradict each other or the rules are older than this, all that it may be of.
 */
export function streamsToMix(
	item: Item,
	kind: KindForPhone | null,
	rules: RulesForPhone | null,
	ruleSet: string | null,
): readonly string[] {
	if (!rules?.streams) return [];
	const one = streamOf(item, kind, rules, ruleSet);
	const all = streamsOf(item, kind, rules).map(({ id }) => id);
	const odd = contradictionsOf(item, streamOfKind(kind), rules.contradictions ?? []).length > 0;
	const old = rules.streams.some(({ if_soaked }) => if_soaked === undefined);
	return odd || old ? [...new Set([one, ...all])] : [one];
}

/** The stream where the answers agree: the worst finding first, the cautious one where none is. */
export function streamOf(
	item: Item,
	kind: KindForPhone | null,
	rules: RulesForPhone,
	ruleSet: string | null,
): string {
	const all = new Map(rules.streams?.map((stream) => [stream.id, stream]) ?? []);
	const own = all.get(kind?.waste ?? UNSORTED);
	if (!own) return kind?.waste ?? UNSORTED;
	if (kind && isRag(own.id)) return withFindings(item, ragOf(item, kind), all.get("rag-clean"));
	if (own.id === "diesel") return fuelOf(item, rules, ruleSet);
	const worse = worseOf(item, own);
	if (worse) return worse;
	if (!kind) return own.id;
	const said = own.answers.find((answer) => given(answer, item));
	const open = own.answers.find((one) => one.or_unanswered && answerOf(item, one.field) === null);
	return (said ?? open)?.stream ?? own.id;
}

function isRag(stream: string): boolean {
	return WORST_FIRST.some((id) => id === stream);
}

/** Cloth: by what it soaked up, but never milder than the name of its kind says. */
function ragOf(item: Item, kind: KindForPhone): string {
	const said = RAG_BY_SOAK[item.soaked_in ?? ""];
	const [unknown, own] = [kind.id === "rag-unknown", kind.waste ?? "rag-drying"];
	if (said === undefined)
		return !unknown && ["rag-drying", "rag-solvent"].includes(own) ? own : "rag-drying";
	const floor = unknown ? said : own;
	return WORST_FIRST.find((id) => id === said || id === floor) ?? said;
}

function withFindings(item: Item, rag: string, clean: StreamForPhone | undefined): string {
	if (rag !== "rag-oil" && rag !== "rag-clean") return rag;
	if (item.asbestos === "found") return clean?.if_asbestos || rag;
	return item.lead === "found" ? clean?.if_lead || rag : rag;
}

/** Diesel: the flash point decides where a rule set draws a line through it. */
function fuelOf(item: Item, rules: RulesForPhone, ruleSet: string | null): string {
	const limit = rules.rule_sets.find(({ id }) => id === ruleSet)?.flash_below_c ?? null;
	const flash = item.flash_point_c;
	const high = limit !== null && flash !== null && flash !== undefined && flash >= limit;
	return high ? "diesel-high-flash" : "diesel";
}

function worseOf(item: Item, own: StreamForPhone): string | null {
	if (item.asbestos === "found" && own.if_asbestos) return own.if_asbestos;
	if (item.soaked_in && SOILED.includes(item.soaked_in) && own.if_soaked)
		return own.if_soaked === "rag" ? (RAG_BY_SOAK[item.soaked_in] ?? null) : own.if_soaked;
	return item.lead === "found" && own.if_lead ? own.if_lead : null;
}
