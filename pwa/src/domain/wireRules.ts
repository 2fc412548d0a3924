/** What wires are sized by, as the server sends it with its rules: amperes, ohms, shares, limits. */

export interface WireRules {
	readonly insulation_c: readonly number[];
	/** Amperes and ohms are at this temperature of the air, in °C. */
	readonly at_c: number;
	/** From thin to thick; amperes by class of insulation. */
	readonly gauges: readonly {
		readonly name: string;
		readonly mm2: number;
		readonly amperes: readonly number[];
	}[];
	readonly metric: readonly { readonly mm2: number; readonly ohm_per_km: number }[];
	/** The engine space, in °C. */
	readonly hot_c: number;
	readonly most_c: number;
	readonly below_insulation_k: number;
	readonly at_hot: readonly number[];
	readonly bundles: readonly { readonly from_n: number; readonly share: number }[];
	readonly ohm_mm2_per_m: number;
	readonly unnamed_ohm_mm2_per_km: number;
	readonly per_k: number;
	readonly critical: number;
	readonly other: number;
	readonly duties: Readonly<Record<string, number>>;
	readonly alone_gauge_mm2: number;
	readonly sheathed_gauge_mm2: number;
	readonly alone_mm2: number;
	readonly sheathed_mm2: number;
	readonly limits: {
		readonly dc_v: readonly [number, number];
		readonly ac_v: readonly [number, number];
		readonly most_a: number;
		readonly most_m: number;
		readonly most_bundled: number;
		readonly ac_mm2: number;
		readonly ac_gauge_mm2: number;
		readonly loads_differ: number;
	};
	readonly fuses: readonly number[];
	readonly cautions: readonly string[];
}
