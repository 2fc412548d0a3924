/** What the phone knows of hoses and threads, from the server's rules. */
import type { Named } from "./named.ts";

/** What flows in a hose: standards to choose from, clamps at each end. */
export interface ServiceForPhone extends Named {
	readonly kinds: readonly string[];
	readonly standards: readonly string[];
	readonly clamps: number;
	/** Kinds with another number of clamps. */
	readonly kind_clamps?: Readonly<Record<string, number>>;
	/** 0 where nothing is said. */
	readonly least_bore_mm?: number;
	readonly least_bore_say?: string;
	readonly caution: string;
}

/** A family of threads; `sex` is what it can only be, `words` how people write it. */
export interface FamilyForPhone extends Named {
	readonly tight: string;
	readonly series: string;
	readonly sex: Sex;
	readonly words: readonly string[];
	readonly classes: readonly string[];
}

export interface ThreadSizeForPhone {
	readonly series: string;
	readonly size: string;
	readonly per_inch: number;
	readonly major_mm: number;
}

/** An outside thread in an inside one of the same size: whether that is tight, and why. */
export interface ThreadFitForPhone {
	readonly male: string;
	readonly female: string;
	readonly tight: boolean;
	readonly say: string;
}

/** What a plain part is ordered by: `by` are fields of the item that make two of them equal. */
export interface PlainPartForPhone {
	readonly kinds: readonly string[];
	readonly by: readonly string[];
	readonly ask: string;
	readonly measure: string;
	readonly standards: readonly string[];
	readonly sizes: readonly { readonly name: string; readonly about: string }[];
}

export type Sex = "" | "male" | "female";

export interface RenewalRules {
	readonly services: readonly ServiceForPhone[];
	readonly bores_mm: readonly number[];
	readonly threads: readonly FamilyForPhone[];
	/** Missing in rules of an older server. */
	readonly thread_sizes?: readonly ThreadSizeForPhone[];
	/** Missing in rules of an older server. */
	readonly thread_fits?: readonly ThreadFitForPhone[];
	/** Why two series never go together. Missing in rules of an older server. */
	readonly thread_series?: readonly { readonly series: readonly string[]; readonly say: string }[];
	/** Missing in rules of an older server. */
	readonly parts?: readonly PlainPartForPhone[];
}
