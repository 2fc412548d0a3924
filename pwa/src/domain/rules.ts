/** The part of the server's rules that the phone needs to ask, suggest and warn offline. */

export interface Named {
	readonly id: string;
	readonly name: string;
}

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
}

export interface RulesForPhone {
	readonly version: string;
	readonly systems: readonly SystemForPhone[];
	readonly kinds: readonly KindForPhone[];
	/** Tasks of jobs that make sparks, unless the job says otherwise. */
	readonly spark_tasks: readonly string[];
	readonly surveys: readonly Survey[];
	readonly rule_sets: readonly Named[];
	readonly materials: readonly Named[];
}
