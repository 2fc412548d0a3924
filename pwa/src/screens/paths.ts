/** Every address of the app, written once. */
export const PATHS = {
	takeOut: "/",
	takeOutItem: (key: string) => `/?item=${key}`,
	find: "/find",
	item: (key: string) => `/item/${key}`,
	editItem: (key: string) => `/item/${key}/edit`,
	tank: (key: string) => `/item/${key}/tank`,
	wire: (key: string) => `/item/${key}/wire`,
	putAway: (key: string) => `/item/${key}/put-away`,
	left: "/left",
	waste: "/waste",
	quantities: "/waste/months",
	renewals: "/renewals",
	order: "/renewals/order",
	piping: "/piping",
	wiring: "/wiring",
	circuits: "/circuits",
	masses: "/masses",
	scrap: "/scrap",
	weigh: (of?: string) => (of ? `/weigh?of=${of}` : "/weigh"),
	tanks: "/tanks",
	work: "/work",
	sitting: "/work/sitting",
	jobs: "/jobs",
	job: (key: string) => `/jobs/${key}`,
	newJob: (query = "") => (query ? `/jobs/new?${query}` : "/jobs/new"),
	orders: "/orders",
	walkRound: "/walk-round",
	photo: (key: string) => `/photo/${key}`,
	back: "/back",
	lifts: "/lifts",
	lift: (key: string) => `/lifts/${key}`,
	trim: "/trim",
	boxes: "/containers",
	box: (key: string) => `/containers/${key}`,
	newBox: (stream = "") => (stream ? `/containers/new?stream=${stream}` : "/containers/new"),
	handovers: "/handovers",
	handover: (key: string) => `/handovers/${key}`,
	newHandover: (box = "") => (box ? `/handovers/new?container=${box}` : "/handovers/new"),
	boat: "/boat",
	compartments: "/compartments",
	compartment: (key: string) => `/compartments/${key}`,
	places: "/places",
	place: (key: string) => `/places/${key}`,
	tags: "/tags",
	kept: "/kept",
	clashes: "/clashes",
	bin: "/bin",
	storage: "/storage",
	devices: "/devices",
	pair: "/pair",
	newBoat: "/new-boat",
	tag: (code: string) => `/t/${code}`,
	/** A line of a list: an item, or what is still in a tank (`tank/` or `sludge/`, then its item). */
	line: (key: string) => {
		const tank = tankOf(key);
		return tank ? PATHS.tank(tank) : PATHS.item(key);
	},
} as const;

/** The item of the tank whose rest a line of a list is; null: the line is an item of its own. */
export function tankOf(key: string): string | null {
	const [table, of] = key.split("/");
	return of && (table === "tank" || table === "sludge") ? of : null;
}
