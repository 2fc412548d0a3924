/** The part of the server's rules that the phone needs to ask, suggest and warn offline. */
import type { Named } from "./named.ts";
import type { RenewalRules } from "./renewalRules.ts";
import type { RigLimits } from "./rig.ts";
import type { WireRules } from "./wireRules.ts";

export interface SystemForPhone extends Named {
	/** What must be done before its parts may come out; empty where nothing. */
	readonly make_safe: string;
	/** What can happen otherwise; where it stands, nothing is ready before that is written down. */
	readonly strict: string;
}

/** A compartment that such a boat usually has; `along` as shares of the length from the stem. */
export interface SurveyPlace extends Named {
	readonly within: string;
	readonly level: string;
	readonly side: string;
	readonly along: readonly [number, number];
	/** Kinds that are probably there, and how many. */
	readonly likely: readonly (readonly [kind: string, count: number])[];
}

export interface Survey extends Named {
	readonly about: string;
	readonly compartments: readonly SurveyPlace[];
	/** What usually comes out first, by `compartment/kind`; missing in rules of an older server. */
	readonly orders?: readonly SurveyOrder[];
}

export interface SurveyOrder {
	readonly first: string;
	readonly then: string;
	readonly why: string;
}

export interface KindForPhone extends Named {
	readonly system: string;
	/** Other words that people search by. */
	readonly words: readonly string[];
	readonly usual_in: readonly string[];
	readonly default_fate: string | null;
	readonly is_run: boolean;
	/** Systems that must be made safe first. */
	readonly make_safe: readonly string[];
	readonly cautions: readonly string[];
	/** Names of fields worth asking for. */
	readonly prompts: readonly string[];
	readonly material: string | null;
	/** The stream that it belongs to when it is waste and nothing else is known. */
	readonly waste?: string;
}

/** A question that decides a stream; `only_in` empty means under every rule set. */
export interface AskForPhone {
	readonly field: string;
	readonly ask: string;
	readonly assumed: string;
	readonly only_in: readonly string[];
}

export interface AnswerForPhone {
	readonly field: string;
	readonly values: readonly (string | boolean)[];
	readonly above: number | null;
	readonly or_unanswered: boolean;
	readonly stream: string;
}

export interface StreamForPhone extends Named {
	readonly keep_in: string;
	readonly cautions: readonly string[];
	readonly call: readonly string[];
	readonly asks: readonly AskForPhone[];
	readonly answers: readonly AnswerForPhone[];
	// A server of an earlier version sends none of what follows.
	/** A hazard whatever is done with it. */
	readonly in_itself?: boolean;
	/** Classes for the road. */
	readonly classes?: readonly string[];
	/** What it would be without the answers that made it milder; empty: nothing. */
	readonly milder_of?: string;
	/** Where it goes once it is found soaked, with lead, with asbestos; empty: nowhere else. */
	readonly if_soaked?: string;
	readonly if_lead?: string;
	readonly if_asbestos?: string;
}

/** A ban on two streams in one container or on one shelf; `only_if` says what lifts it. */
export interface ApartForPhone {
	readonly first: string;
	readonly second: string;
	readonly level: string;
	readonly why: string;
	readonly only_if: string;
	/** Who says what lifts it; older servers don't say. */
	readonly only_if_source?: string;
	readonly sources: readonly string[];
	/** The sources by rule set; `sources` where a local one is in use that stands on none. */
	readonly cited?: Readonly<Record<string, readonly string[]>>;
}

/** What must be done, in order, with a dangerous thing; `when` is an answer it waits for. */
export interface PathForPhone extends Named {
	readonly streams: readonly string[];
	readonly when: string;
	readonly danger: string;
	readonly steps: readonly string[];
	readonly sources: readonly string[];
}

export interface WhenForPhone {
	readonly field: string;
	readonly values: readonly (string | boolean)[];
	readonly below: number | null;
	readonly at_least: number | null;
}

export interface ContradictionForPhone {
	readonly field: string;
	readonly streams: readonly string[];
	readonly when: readonly WhenForPhone[];
	readonly say: string;
	readonly do: string;
	readonly assumed: string;
}

export interface RuleSetForPhone extends Named {
	/** The rule set that a local one is based on, else its own id. */
	readonly law?: string;
	readonly edition?: string;
	readonly areas?: readonly Named[];
	/** What the site asks besides, by stream. */
	readonly asks?: Readonly<Record<string, readonly AskForPhone[]>>;
	/** Diesel whose flash point isn't below this is a stream of its own; null: no line is drawn. */
	readonly flash_below_c?: number | null;
	/** What the site keeps apart besides. */
	readonly apart?: readonly ApartForPhone[];
}

/** A file of local rules; `problem` is empty where it is in use as it is. */
export interface LocalFile {
	readonly name: string;
	readonly problem: string;
	readonly older_used: boolean;
}

/** What a tank may hold; what follows the cautions is missing in rules of an older server. */
export interface LiquidForPhone extends Named {
	readonly cautions: readonly string[];
	/** Kinds of items that may be this liquid, and its sludge; the first is what a can becomes. */
	readonly kinds?: readonly string[];
	readonly sludge_kinds?: readonly string[];
	/** Densities at 15 °C in kg/m3, and temperatures in °C, that the server can work with. */
	readonly lightest?: number;
	readonly heaviest?: number;
	readonly coldest?: number;
	readonly warmest?: number;
}

export interface RulesForPhone {
	/** Missing in rules of an older server. */
	readonly liquids?: readonly LiquidForPhone[];
	readonly tank_cautions?: readonly string[];
	readonly lifting?: RigLimits;
	readonly wiring?: WireRules;
	readonly renewal?: RenewalRules;
	readonly version: string;
	readonly systems: readonly SystemForPhone[];
	readonly kinds: readonly KindForPhone[];
	/** Tasks of jobs that make sparks, unless the job says otherwise. */
	readonly spark_tasks: readonly string[];
	readonly surveys: readonly Survey[];
	readonly rule_sets: readonly RuleSetForPhone[];
	readonly materials: readonly Named[];
	// A server of an earlier version sends none of these.
	readonly streams?: readonly StreamForPhone[];
	readonly contradictions?: readonly ContradictionForPhone[];
	readonly local_files?: readonly LocalFile[];
	readonly apart?: readonly ApartForPhone[];
	readonly stream_sets?: Readonly<Record<string, readonly string[]>>;
	readonly paths?: readonly PathForPhone[];
}
