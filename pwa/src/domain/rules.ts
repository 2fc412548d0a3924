/** The part of the server's rules that the phone needs to ask, suggest and warn offline. */

export interface Named {
	readonly id: string;
	readonly name: string;
}

export interface KindForPhone extends Named {
	readonly system: string;
	/** Other words that people search by. */
	readonly words: readonly string[];
	readonly usual_in: readonly string[];
	readonly default_fate: string | null;
	readonly is_run: boolean;
	readonly cautions: readonly string[];
	/** Names of fields worth asking for. */
	readonly prompts: readonly string[];
	readonly material: string | null;
}

export interface RulesForPhone {
	readonly version: string;
	readonly systems: readonly Named[];
	readonly kinds: readonly KindForPhone[];
	readonly rule_sets: readonly Named[];
	readonly materials: readonly Named[];
}
