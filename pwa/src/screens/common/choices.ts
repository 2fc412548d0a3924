/** The words a person chooses from, in the order of the screens. */
export const CONDITIONS = [
	{ value: "sound", label: "Sound" },
	{ value: "serviceable", label: "Serviceable" },
	{ value: "worn", label: "Worn" },
	{ value: "failed", label: "Failed" },
] as const;

export const FATES = [
	{ value: "undecided", label: "Undecided" },
	{ value: "refit", label: "Refit" },
	{ value: "renew", label: "Renew" },
	{ value: "sell", label: "Sell" },
	{ value: "scrap", label: "Scrap" },
	{ value: "waste", label: "Waste" },
] as const;
