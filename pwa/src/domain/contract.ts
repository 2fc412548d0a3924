// Generated from the server's declarations by `python -m shedtally.contract`.
// Edit domain/records/, a lists.py or problem_kinds.py and run it again; a test compares.

export type JsonValue = string | number | boolean | null;
export type Values = Readonly<Record<string, JsonValue>>;

/** The vessel; its rule set and holder decide which waste list applies. `survey` is the id of the one that the walk-round began with. From `waterline_m` on: how she floats, as far as known. `float_centre_m` and `bow_overhang_m` are measured aft from the stem, `trim_moment` is kg m for one centimetre. */
export interface Boat {
	readonly key: string;
	readonly binned: boolean | null;
	readonly name: string | null;
	readonly built: number | null;
	readonly hull: string | null;
	readonly length_m: number | null;
	readonly beam_m: number | null;
	readonly draught_m: number | null;
	readonly rule_set: string | null;
	readonly holder: "household" | "business" | null;
	readonly rule_area: string | null;
	readonly owner: string | null;
	readonly lies_at: string | null;
	readonly note: string | null;
	readonly waterline_m: number | null;
	readonly waterline_beam_m: number | null;
	readonly bow_overhang_m: number | null;
	readonly displacement_kg: number | null;
	readonly waterplane_m2: number | null;
	readonly float_centre_m: number | null;
	readonly trim_moment: number | null;
	readonly gm_m: number | null;
	readonly draught_fore_m: number | null;
	readonly draught_aft_m: number | null;
	readonly afloat_in: "sea" | "brackish" | "fresh" | null;
	readonly survey: string | null;
}

/** A place in the boat; `from_m` and `to_m` are measured aft from the stem. */
export interface Compartment {
	readonly key: string;
	readonly binned: boolean | null;
	readonly name: string | null;
	readonly within: string | null;
	readonly side: "port" | "centre" | "starboard" | "across" | null;
	readonly level: "aloft" | "deck" | "cabin" | "under sole" | null;
	readonly from_m: number | null;
	readonly to_m: number | null;
}

/** Anything that comes out, from a seacock to a bag of rags. `part_of` is what it is bolted to and lifted with, `mass_apart` whether that one's mass leaves it out; `never_aboard` is new and goes in, in the place of the item that it `replaces`; `drawn_from` the tank that a can of liquid was filled from. `thickness_mm` is the wall of what is hollow, all of a cored panel. `hours` are those that it ran, `work_hours` what it takes to get it out. `handover` is that of a loose item; one in a container goes with it. `boxed_at` is when it was put in. From `load_a` on: what a wire feeds and how it lies. `return_mm` is the way back where it is not as long as the way there; `bundled` counts the loaded conductors that lie together, its own too; `fuse_a` is the fuse that was there, `new_size` the size that somebody took. `service` is an id of the rules, what flows in a hose; `thread` what is cut on a fitting, as people write it (`renewals/thread.py` reads it). */
export interface Item {
	readonly key: string;
	readonly binned: boolean | null;
	readonly name: string | null;
	readonly kind: string | null;
	readonly system: string | null;
	readonly compartment: string | null;
	readonly sat: string | null;
	readonly condition: "sound" | "serviceable" | "worn" | "failed" | "unknown" | null;
	readonly whereabouts: "aboard" | "ashore" | "gone" | null;
	readonly fate: "undecided" | "refit" | "renew" | "sell" | "scrap" | "waste" | null;
	readonly place: string | null;
	readonly container: string | null;
	readonly out_at: string | null;
	readonly fastened: string | null;
	readonly note: string | null;
	readonly count: number | null;
	readonly material: string | null;
	readonly size: string | null;
	readonly length_mm: number | null;
	readonly width_mm: number | null;
	readonly height_mm: number | null;
	readonly thickness_mm: number | null;
	readonly volume_l: number | null;
	readonly capacity_ah: number | null;
	readonly voltage_v: number | null;
	readonly mass_kg: number | null;
	readonly mass_how: "weighed" | "plate" | "calculated" | "guessed" | null;
	readonly hours: number | null;
	readonly work_hours: number | null;
	readonly back_at: string | null;
	readonly leaking: boolean | null;
	readonly drained: boolean | null;
	readonly soaked_in: "mineral oil" | "drying oil" | "solvent" | "fuel" | "water" | "clean" | null;
	readonly flash_point_c: number | null;
	readonly lead: "found" | "not found" | null;
	readonly asbestos: "found" | "not found" | null;
	readonly liquid: "diesel" | "petrol" | "mixed fuel" | "oil" | "coolant" | "solvent" | "acid or lye" | "water" | null;
	readonly damaged: boolean | null;
	readonly emptied: boolean | null;
	readonly cured: boolean | null;
	readonly halogens_ppm: number | null;
	readonly pcb: "found" | "not found" | "made after 1980" | null;
	readonly refrigerant: "CFC, HCFC or HFC" | "hydrocarbon" | "ammonia" | "recovered" | null;
	readonly filling: "halon" | "powder" | "foam" | "water" | "carbon dioxide" | null;
	readonly fluorinated: boolean | null;
	readonly battery_out: boolean | null;
	readonly deregistered: boolean | null;
	readonly ionising: boolean | null;
	readonly form: "plate" | "round bar" | "flat bar" | "pipe" | "hose" | "cable" | "board" | "cored panel" | "cylinder" | "tank shell" | null;
	readonly diameter_mm: number | null;
	readonly core_mm: number | null;
	readonly core_material: string | null;
	readonly part_of: string | null;
	readonly mass_apart: boolean | null;
	readonly never_aboard: boolean | null;
	readonly replaces: string | null;
	readonly drawn_from: string | null;
	readonly handover: string | null;
	readonly boxed_at: string | null;
	readonly aft_m: number | null;
	readonly off_m: number | null;
	readonly up_m: number | null;
	readonly load_a: number | null;
	readonly load_w: number | null;
	readonly duty: "hours" | "at times" | "seconds" | null;
	readonly critical: boolean | null;
	readonly return_mm: number | null;
	readonly hot_space: boolean | null;
	readonly ambient_c: number | null;
	readonly bundled: number | null;
	readonly insulation_c: number | null;
	readonly sheathed: boolean | null;
	readonly fuse_a: number | null;
	readonly trunking: string | null;
	readonly new_size: string | null;
	readonly service: string | null;
	readonly thread: string | null;
}

/** Where a run, or a port of an item, is joined: to another item or to a named point. `stud` is the screw or bolt that a terminal goes over, like M8; `thread` what is cut on this end where it is not that of the whole item. */
export interface End {
	readonly key: string;
	readonly binned: boolean | null;
	readonly item: string | null;
	readonly label: string | null;
	readonly to_item: string | null;
	readonly to_point: string | null;
	readonly joined: string | null;
	readonly stud: string | null;
	readonly thread: string | null;
}

/** A photograph of something; the bytes live in the photo store under their SHA-256. */
export interface Photo {
	readonly key: string;
	readonly binned: boolean | null;
	readonly of: string | null;
	readonly sha256: string | null;
	readonly type: "image/jpeg" | "image/png" | "image/webp" | null;
	readonly bytes: number | null;
	readonly width: number | null;
	readonly height: number | null;
	readonly taken_at: string | null;
	readonly caption: string | null;
}

/** Where an item is on a photograph, as shares of its width from the left and height down. */
export interface Pin {
	readonly key: string;
	readonly binned: boolean | null;
	readonly photo: string | null;
	readonly item: string | null;
	readonly x: number | null;
	readonly y: number | null;
}

/** A printed label. Its key is its code, so that two phones that use one tag twice meet here. */
export interface Tag {
	readonly key: string;
	readonly binned: boolean | null;
	readonly on: string | null;
}

/** A shelf, crate or rack in the shed. */
export interface Place {
	readonly key: string;
	readonly binned: boolean | null;
	readonly name: string | null;
	readonly sort: "shelf" | "crate" | "rack" | "floor" | "outside" | null;
	readonly within: string | null;
}

/** A drum, can, bin or tray that holds one waste stream. `sort` is a word of the list or one's own, `limit_kg` the most that may be in it, `filled_percent` how full it looked. */
export interface Container {
	readonly key: string;
	readonly binned: boolean | null;
	readonly name: string | null;
	readonly sort: string | null;
	readonly stream: string | null;
	readonly place: string | null;
	readonly capacity_l: number | null;
	readonly limit_kg: number | null;
	readonly filled_percent: number | null;
	readonly tare_kg: number | null;
	readonly gross_kg: number | null;
	readonly opened_at: string | null;
	readonly closed_at: string | null;
	readonly handover: string | null;
}

/** Work that is no item. A make-safe job names the system that waits for it. `sparks`: it makes heat or sparks. `vapour`: fuel or gas is open while it is done. */
export interface Job {
	readonly key: string;
	readonly binned: boolean | null;
	readonly name: string | null;
	readonly task: "make safe" | "scrape" | "grind" | "clean" | "other" | null;
	readonly system: string | null;
	readonly compartment: string | null;
	readonly area_m2: number | null;
	readonly length_m: number | null;
	readonly hours: number | null;
	readonly people: number | null;
	readonly toil: "light" | "steady" | "hard" | null;
	readonly dirty: boolean | null;
	readonly sparks: boolean | null;
	readonly vapour: boolean | null;
	readonly done_at: string | null;
}

/** `first` before `then`: `then` can't come out, or start, until `first` is done. A compartment stands for all that is in it: first it must be empty, then nothing in it may come out before. */
export interface Before {
	readonly key: string;
	readonly binned: boolean | null;
	readonly first: string | null;
	readonly then: string | null;
	readonly why: string | null;
}

/** The day a container or lot left, to whom, against which document. `sealed_at` is when somebody said that all of it has gone; with that change the server freezes its list for good. */
export interface Handover {
	readonly key: string;
	readonly binned: boolean | null;
	readonly on: string | null;
	readonly to: string | null;
	readonly carrier: string | null;
	readonly document: string | null;
	readonly note: string | null;
	readonly sealed_at: string | null;
}

/** What was wrong in a handover that has gone; its frozen list stays as it was. `item` names the line, where it is about one; `mass_kg` is what it should have said. */
export interface Correction {
	readonly key: string;
	readonly binned: boolean | null;
	readonly handover: string | null;
	readonly item: string | null;
	readonly on: string | null;
	readonly who: string | null;
	readonly text: string | null;
	readonly mass_kg: number | null;
}

/** Somebody put a thing where the rules forbid it, all the same; who, and why. */
export interface Mixing {
	readonly key: string;
	readonly binned: boolean | null;
	readonly container: string | null;
	readonly item: string | null;
	readonly on: string | null;
	readonly who: string | null;
	readonly why: string | null;
}

/** A remark that belongs to something. */
export interface Note {
	readonly key: string;
	readonly binned: boolean | null;
	readonly of: string | null;
	readonly text: string | null;
}

/** Hours that so many people each put in on one day. */
export interface Work {
	readonly key: string;
	readonly binned: boolean | null;
	readonly on: string | null;
	readonly hours: number | null;
	readonly people: number | null;
	readonly job: string | null;
	readonly compartment: string | null;
	readonly note: string | null;
}

/** What a renewal costs, as the user was quoted it; `spec` is the id of a line. `length_mm` is that of the reel or length that the price is for (`per` reel), `pieces` how many are in a pack (`per` pack). */
export interface Price {
	readonly key: string;
	readonly binned: boolean | null;
	readonly spec: string | null;
	readonly amount: number | null;
	readonly currency: string | null;
	readonly per: "each" | "pack" | "metre" | "reel" | "kilogram" | null;
	readonly supplier: string | null;
	readonly length_mm: number | null;
	readonly pieces: number | null;
}

/** What is to be bought for one line of the renewals list, fixed once and not for each item. Its key is the line's id (`spec_id.line_id`), so that two phones that fix the same line meet in one record, or in a clash to settle. The id is made of what lines are merged by before anything is fixed (kind, size, material, service, thread), so fixing a detail doesn't change it. `line` is how the line read when it was fixed. `service` is an id of the rules (what flows in a hose), `standard` the one that was chosen, `conductor` a section or gauge as people write it, `size` that of a plain part. `bought_as` is the id of the line that this one is bought under, which is the way out of mixed units; `substitute` says in words what may be taken instead. `allowance` and `each_end_mm` stand in place of the usual share and length that are added to each run. */
export interface Spec {
	readonly key: string;
	readonly binned: boolean | null;
	readonly line: string | null;
	readonly service: string | null;
	readonly standard: string | null;
	readonly size: string | null;
	readonly bore_mm: number | null;
	readonly outside_mm: number | null;
	readonly material: string | null;
	readonly thread_family: "G" | "Rp" | "R" | "Rc" | "NPS" | "NPT" | "metric" | "unified" | null;
	readonly thread_size: string | null;
	readonly clamps_each_end: number | null;
	readonly conductor: string | null;
	readonly cores: number | null;
	readonly tinned: boolean | null;
	readonly sheathed: boolean | null;
	readonly insulation_c: number | null;
	readonly colour: string | null;
	readonly bought_as: string | null;
	readonly allowance: number | null;
	readonly each_end_mm: number | null;
	readonly substitute: string | null;
	readonly note: string | null;
}

/** How far the buying of one line has got. Its key is the line's id, as that of its `Spec`. A day that is there says that the step was taken; the furthest one counts. `count` is how many pieces the line had when they were bought, so that what came to it later is noticed. `from_price` is the offer that was taken. */
export interface Purchase {
	readonly key: string;
	readonly binned: boolean | null;
	readonly line: string | null;
	readonly bought_at: string | null;
	readonly arrived_at: string | null;
	readonly fitted_at: string | null;
	readonly count: number | null;
	readonly from_price: string | null;
	readonly supplier: string | null;
	readonly note: string | null;
}

/** A length that lies in the shed and can be cut for a line; `spec` is the line's id. `from_cut`: it is what was left when the line itself was cut, so it is for what comes to the line later, and for no piece of what is bought already. */
export interface Leftover {
	readonly key: string;
	readonly binned: boolean | null;
	readonly spec: string | null;
	readonly length_mm: number | null;
	readonly count: number | null;
	readonly place: string | null;
	readonly from_cut: boolean | null;
}

/** What a scale showed: one item, a container, or a crate whose contents `Weighed` names. */
export interface Weighing {
	readonly key: string;
	readonly binned: boolean | null;
	readonly of: string | null;
	readonly on: string | null;
	readonly gross_kg: number | null;
	readonly tare_kg: number | null;
	readonly division_kg: number | null;
	readonly note: string | null;
}

/** One of the items that were on the scale together. */
export interface Weighed {
	readonly key: string;
	readonly binned: boolean | null;
	readonly weighing: string | null;
	readonly item: string | null;
}

/** The inside of an item that holds a liquid; the item is its shell. Sizes are inside ones. `length_mm` is without dished ends; of a standing cylinder it is the height between them. `height_mm` is over all, `v_height_mm` the V's part of it, and `bottom_width_mm` the flat floor. `lies` says where the length points, `along` if not said. The dip pipe stands `pipe_from_end_mm` from the forward end (port end if it lies across) and `pipe_from_side_mm` from the port side (forward side), in the middle if not said; `pipe_top_mm` is the height of the mark for ullage over the tank's lowest point. `liquid` is an id of the rules. */
export interface Tank {
	readonly key: string;
	readonly binned: boolean | null;
	readonly of: string | null;
	readonly shape: "box" | "wedge" | "v-bottom" | "lying cylinder" | "standing cylinder" | "dip table" | null;
	readonly ends: "flat" | "dished" | "torispherical 6 %" | "torispherical 10 %" | null;
	readonly length_mm: number | null;
	readonly width_mm: number | null;
	readonly bottom_width_mm: number | null;
	readonly height_mm: number | null;
	readonly v_height_mm: number | null;
	readonly diameter_mm: number | null;
	readonly dish_mm: number | null;
	readonly lies: "along" | "across" | null;
	readonly pipe_from_end_mm: number | null;
	readonly pipe_from_side_mm: number | null;
	readonly pipe_top_mm: number | null;
	readonly unpumpable_l: number | null;
	readonly liquid: string | null;
}

/** One line of a tank's own dip table. */
export interface DipMark {
	readonly key: string;
	readonly binned: boolean | null;
	readonly tank: string | null;
	readonly level_mm: number | null;
	readonly volume_l: number | null;
}

/** A level as read, with the boat's attitude: bow up and starboard down count up. `level_mm` is what a stick shows wet (dip), the empty height under the mark (ullage), or a gauge over the tank's lowest point (sight). `sludge_mm` is its depth over the floor; the density is at 15 °C. */
export interface Sounding {
	readonly key: string;
	readonly binned: boolean | null;
	readonly tank: string | null;
	readonly on: string | null;
	readonly how: "dip" | "ullage" | "sight" | null;
	readonly level_mm: number | null;
	readonly sludge_mm: number | null;
	readonly bow_up_deg: number | null;
	readonly starboard_down_deg: number | null;
	readonly temperature_c: number | null;
	readonly density_kg_m3: number | null;
	readonly note: string | null;
}

/** One lift: what hangs on the hook, and what it hangs by; `Eye` names the points. `measured_from` names a point of the load itself, like the flywheel end; lengths of the lift and its eyes are then from there, else from the boat's own points. `centre_` is the middle of mass of the load with all its parts, `hook_` the hook with the slings taut. */
export interface Lift {
	readonly key: string;
	readonly binned: boolean | null;
	readonly of: string | null;
	readonly name: string | null;
	readonly on: string | null;
	readonly measured_from: string | null;
	readonly centre_aft_m: number | null;
	readonly centre_off_m: number | null;
	readonly centre_up_m: number | null;
	readonly centre_sure_m: number | null;
	readonly hook_aft_m: number | null;
	readonly hook_off_m: number | null;
	readonly hook_up_m: number | null;
	readonly hook_rated_kg: number | null;
	readonly leg_rated_kg: number | null;
	readonly note: string | null;
}

/** A lifting eye, measured from where its lift is. */
export interface Eye {
	readonly key: string;
	readonly binned: boolean | null;
	readonly lift: string | null;
	readonly name: string | null;
	readonly aft_m: number | null;
	readonly off_m: number | null;
	readonly up_m: number | null;
	readonly rated_kg: number | null;
}

/** What people call a phone; who may write is the server's own table, not this record. */
export interface Device {
	readonly key: string;
	readonly binned: boolean | null;
	readonly name: string | null;
}

export interface Tables {
	boat: Boat;
	compartment: Compartment;
	item: Item;
	end: End;
	photo: Photo;
	pin: Pin;
	tag: Tag;
	place: Place;
	container: Container;
	job: Job;
	before: Before;
	handover: Handover;
	correction: Correction;
	mixing: Mixing;
	note: Note;
	work: Work;
	price: Price;
	spec: Spec;
	purchase: Purchase;
	leftover: Leftover;
	weighing: Weighing;
	weighed: Weighed;
	tank: Tank;
	dipmark: DipMark;
	sounding: Sounding;
	lift: Lift;
	eye: Eye;
	device: Device;
}
export type TableName = keyof Tables;
export type RecordOf<T extends TableName> = Tables[T];

/** Kilograms as low, likely and high (about 95 % lie inside), and how they were got. */
export interface Spread {
	readonly low: number;
	readonly likely: number;
	readonly high: number;
	readonly basis: "weighed" | "plate" | "calculated" | "guessed" | "mixed" | "unknown";
}

/** One item still aboard. It is `ready` when `waits_for` is empty. */
export interface LeftItem {
	readonly key: string;
	readonly name: string;
	readonly kind: string;
	readonly system: string;
	readonly tags: readonly string[];
	readonly ready: boolean;
	readonly waits_for: readonly string[];
	readonly cautions: readonly string[];
}

/** A compartment (key: its record's key) or a system (key: its id), and what is left there. */
export interface LeftGroup {
	readonly key: string;
	readonly name: string;
	readonly path: readonly string[];
	readonly total: number;
	readonly out: number;
	readonly left: number;
	readonly items: readonly LeftItem[];
}

/** Left to take out, twice: by compartment and by system. Counts are pieces, not records. */
export interface LeftList {
	readonly total: number;
	readonly out: number;
	readonly left: number;
	readonly ready: number;
	readonly by_compartment: readonly LeftGroup[];
	readonly by_system: readonly LeftGroup[];
}

/** What only a person can answer; until then `assumed` holds, the cautious answer. */
export interface Question {
	readonly item: string;
	readonly name: string;
	readonly field: string;
	readonly ask: string;
	readonly assumed: string;
}

/** One item of a stream; `reason` says in a sentence why it belongs there. */
export interface WasteItem {
	readonly key: string;
	readonly name: string;
	readonly tags: readonly string[];
	readonly count: number;
	readonly mass: Spread;
	readonly reason: string;
	readonly assumed: boolean;
	readonly container: string | null;
	readonly gone: boolean;
	readonly box: string;
}

/** A drum, can or bin with waste in it. `net` is what was weighed inside; None: not weighed. Days are ISO 8601, empty where nobody wrote them; `stream` is what it is meant for. */
export interface WasteContainer {
	readonly key: string;
	readonly name: string;
	readonly tags: readonly string[];
	readonly stream: string;
	readonly place: string;
	readonly capacity_l: number | null;
	readonly tare_kg: number | null;
	readonly gross_kg: number | null;
	readonly net: Spread | null;
	readonly opened: string;
	readonly closed: string;
	readonly gone: boolean;
}

/** One stream under one rule set. `code` is as the publication prints it, `*` included. `containers` are those in which something of the stream lies; one that holds several streams stands in each of them. `basis` is where the code is printed and since when it applies; `measured` how the amount is usually got. */
export interface WasteStream {
	readonly id: string;
	readonly name: string;
	readonly code: string;
	readonly code_title: string;
	readonly hazardous: boolean;
	readonly why: string;
	readonly transport: string;
	readonly keep_in: string;
	readonly keep_apart: readonly string[];
	readonly cautions: readonly string[];
	readonly call: readonly string[];
	readonly sources: readonly string[];
	readonly from_memory: boolean;
	readonly on_site: Spread;
	readonly gone: Spread;
	readonly items: readonly WasteItem[];
	readonly containers: readonly WasteContainer[];
	readonly basis: string;
	readonly measured: string;
}

/** A thing that may not lie in the container where it lies, why, and who put it there. `box` is the container's key. `only_if` is what lifts the ban, empty: nothing does, and `only_if_source` who says so; `who` and `reason` are those of whoever recorded that it lies there all the same. */
export interface Ban {
	readonly item: string;
	readonly name: string;
	readonly box: string;
	readonly container: string;
	readonly beside: string;
	readonly why: string;
	readonly only_if: string;
	readonly sources: readonly string[];
	readonly who: string;
	readonly reason: string;
	readonly only_if_source: string;
}

/** Waste by stream. `standing` is the statement that goes with every list. `owner` and `lies_at` are whose boat it is and where, empty where nobody wrote it. `edition` is the day of the rule set (ISO 8601); `notes` is what it says besides codes, each with its source; `mixed` is what lies in a container where it may not. */
export interface WasteList {
	readonly rule_set: string;
	readonly rule_set_name: string;
	readonly dated: string;
	readonly holder: string;
	readonly standing: string;
	readonly streams: readonly WasteStream[];
	readonly questions: readonly Question[];
	readonly on_site: Spread;
	readonly gone: Spread;
	readonly weighed_share: number;
	readonly owner: string;
	readonly lies_at: string;
	readonly edition: string;
	readonly notes: readonly string[];
	readonly mixed: readonly Ban[];
}

/** One run of a line. Lengths are mm; `cut_mm` is one piece with its allowance. `how` says where the length is from; one that nobody measured has a spread, `low_mm` to `high_mm`. `ends` says what it joins, as far as known. */
export interface RunLength {
	readonly item: string;
	readonly name: string;
	readonly tags: readonly string[];
	readonly count: number;
	readonly length_mm: number | null;
	readonly cut_mm: number | null;
	readonly low_mm: number | null;
	readonly high_mm: number | null;
	readonly how: "measured" | "worked out from the compartments" | "not known";
	readonly ends: readonly string[];
}

/** Equal specs merged. Lengths are mm; `order_mm` includes the allowance. None: not a run. `id` is the key of the line's `Spec` record; it stays while details are fixed. `system` is that of most of its pieces, `systems` all of them. `runs` has every run of the line, also one without a length. `details` are what was fixed, in words, `mismatches` what doesn't fit what it is joined to. `assumed` says what counts where nothing was fixed, and why. `section` is `hose`, `cable` or empty; `service` an id of the rules, what flows in it. */
export interface RenewalLine {
	readonly spec: string;
	readonly kind: string;
	readonly system: string;
	readonly size: string;
	readonly standard: string;
	readonly count: number;
	readonly length_mm: number | null;
	readonly allowance: number;
	readonly order_mm: number | null;
	readonly items: readonly string[];
	readonly tags: readonly string[];
	readonly open_questions: readonly string[];
	readonly id: string;
	readonly systems: readonly string[];
	readonly runs: readonly RunLength[];
	readonly details: readonly string[];
	readonly mismatches: readonly string[];
	readonly assumed: readonly string[];
	readonly section: string;
	readonly service: string;
	readonly material: string;
}

/** Everything whose fate is *renew*, or whose kind is always renewed; grouped by system. `mismatches` says what of the boat is joined and doesn't go together, also where it stays. */
export interface RenewalList {
	readonly lines: readonly RenewalLine[];
	readonly questions: readonly Question[];
	readonly cautions: readonly string[];
	readonly mismatches: readonly string[];
}

/** One run. `number` is its name in the drawing where it has no tag; `ends` what it joins. `length_mm` is as measured, or worked out as `how` says. `more` answers the further heads of the schedule. */
export interface ScheduleRow {
	readonly number: number;
	readonly item: string;
	readonly name: string;
	readonly tags: readonly string[];
	readonly system: string;
	readonly size: string;
	readonly length_mm: number | null;
	readonly how: string;
	readonly ends: readonly string[];
	readonly held: readonly string[];
	readonly place: string;
	readonly condition: string;
	readonly more: readonly string[];
}

/** A box: something that runs lead to. `open` is an end that nobody wrote down. */
export interface DrawnNode {
	readonly key: string;
	readonly sort: "item" | "point" | "run" | "joint" | "open";
	readonly lines: readonly string[];
	readonly tag: string;
	readonly x: number;
	readonly y: number;
	readonly width: number;
	readonly height: number;
}

/** A line of right angles: corners as x, y, x, y ...; its name and size stand at `label`. */
export interface DrawnRun {
	readonly item: string;
	readonly name: string;
	readonly size: string;
	readonly corners: readonly number[];
	readonly label: readonly [number, number];
}

/** A compartment, or several in a row, as a column; from the stem aft. */
export interface DrawnColumn {
	readonly name: readonly string[];
	readonly x: number;
	readonly width: number;
}

/** What hangs together, drawn: columns from the stem aft. */
export interface DrawnBlock {
	readonly width: number;
	readonly height: number;
	readonly columns: readonly DrawnColumn[];
	readonly nodes: readonly DrawnNode[];
	readonly runs: readonly DrawnRun[];
}

/** One system: its runs, and their drawing in blocks of what hangs together. */
export interface ScheduleSystem {
	readonly system: string;
	readonly name: string;
	readonly rows: readonly ScheduleRow[];
	readonly blocks: readonly DrawnBlock[];
	readonly open_questions: readonly string[];
}

/** All runs of one sort as the boat was. `heads` are what `more` of each row answers. */
export interface Schedule {
	readonly title: string;
	readonly heads: readonly string[];
	readonly systems: readonly ScheduleSystem[];
	readonly cautions: readonly string[];
}

/** Person hours left at the end of a week that begins on `monday`. */
export interface WeekAhead {
	readonly monday: string;
	readonly low: number;
	readonly likely: number;
	readonly high: number;
}

/** Person hours left and the day of finishing; eight of ten trials lie between low and high. A day is None if so many trials did not end within five years. */
export interface Forecast {
	readonly hours_low: number;
	readonly hours_likely: number;
	readonly hours_high: number;
	readonly early: string | null;
	readonly likely: string | null;
	readonly late: string | null;
	readonly weeks: readonly WeekAhead[];
	readonly from_own_pace: boolean;
	readonly from_own_weeks: boolean;
}

/** The end of the week that began on `monday`; hours are person hours. */
export interface WeekDone {
	readonly monday: string;
	readonly pieces_left: number;
	readonly hours_left: number;
	readonly hours_put_in: number;
}

/** `first` before `then`, both targets, with their names and the reason. */
export interface Proposal {
	readonly first: string;
	readonly then: string;
	readonly first_name: string;
	readonly then_name: string;
	readonly why: string;
	readonly rule: string;
}

/** One piece of open work; hours are of its whole crew of `people`, by the clock. `opens`: the names of what it alone holds up. `said`: a person wrote the hours down. */
export interface WorkStep {
	readonly target: string;
	readonly name: string;
	readonly system: string;
	readonly path: readonly string[];
	readonly tags: readonly string[];
	readonly hours_low: number;
	readonly hours: number;
	readonly hours_high: number;
	readonly people: number;
	readonly toil: string;
	readonly dirty: boolean;
	readonly sparks: boolean;
	readonly vapour: boolean;
	readonly said: boolean;
	readonly opens: readonly string[];
}

/** An open step that others wait for, how many do, and what it waits for itself. */
export interface HoldUp {
	readonly target: string;
	readonly name: string;
	readonly holds: number;
	readonly ready: boolean;
	readonly waits_for: readonly string[];
}

/** Open steps and person hours of a compartment (its key) or a system (its id). */
export interface HoursLeft {
	readonly key: string;
	readonly name: string;
	readonly path: readonly string[];
	readonly steps: number;
	readonly ready: number;
	readonly hours: number;
}

/** What a crew needs by the clock: a schedule, where one was made, and what none can beat. */
export interface CrewTime {
	readonly people: number;
	readonly hours: number | null;
	readonly at_least: number;
}

/** The crew's hours beside the estimates, as a share; 0 sittings: the usual share. `week_hours`: person hours of a week, the mean of those worked or the usual. */
export interface PaceSaid {
	readonly low: number;
	readonly share: number;
	readonly high: number;
	readonly sittings: number;
	readonly week_hours: number;
	readonly own_weeks: number;
}

/** All of it as of a day. `chain` is a longest chain of steps, each waiting for the last. */
export interface WorkAhead {
	readonly dated: string;
	readonly steps: number;
	readonly ready: readonly WorkStep[];
	readonly hold_ups: readonly HoldUp[];
	readonly chain: readonly WorkStep[];
	readonly chain_hours: number;
	readonly rings: readonly (readonly string[])[];
	readonly by_compartment: readonly HoursLeft[];
	readonly by_system: readonly HoursLeft[];
	readonly crews: readonly CrewTime[];
	readonly pace: PaceSaid;
	readonly forecast: Forecast;
	readonly progress: readonly WeekDone[];
	readonly proposals: readonly Proposal[];
	readonly cautions: readonly string[];
}

/** One step of a sitting; hours count from its beginning. `goes_on`: not done at its end. */
export interface Turn {
	readonly target: string;
	readonly name: string;
	readonly compartment: string;
	readonly start: number;
	readonly hours: number;
	readonly people: number;
	readonly toil: string;
	readonly dirty: boolean;
	readonly sparks: boolean;
	readonly vapour: boolean;
	readonly opens: number;
	readonly goes_on: boolean;
}

/** Turns in the order of their start; and what was ready but could not be taken, with why. */
export interface Sitting {
	readonly hours: number;
	readonly people: number;
	readonly turns: readonly Turn[];
	readonly passed_over: readonly (readonly [string, string])[];
}

/** Where one end goes: to a tagged item or to a point in words, and how it was joined. */
export interface BackJoin {
	readonly label: string;
	readonly to: string;
	readonly tags: readonly string[];
	readonly joined: string;
}

/** One thing that goes back. `after` names what must be in place before it. `state`: `here` in the shed, `new` wanted, `gone`, `back` in its place. `order` counts from 1 through the whole boat. `in_place_of` is the old item where this is a new part: name, tags and shelf are those of the new one, the rest is how the old one sat, and `old_name` and `old_tags` say which that was. */
export interface BackItem {
	readonly key: string;
	readonly order: number;
	readonly name: string;
	readonly tags: readonly string[];
	readonly system: string;
	readonly path: readonly string[];
	readonly sat: string;
	readonly count: number;
	readonly fastened: string;
	readonly note: string;
	readonly place: readonly string[];
	readonly joins: readonly BackJoin[];
	readonly after: readonly string[];
	readonly state: string;
	readonly missing: string;
	readonly in_place_of: string;
	readonly old_name: string;
	readonly old_tags: readonly string[];
}

/** A compartment or a system, and what goes back there, in order. */
export interface BackGroup {
	readonly key: string;
	readonly name: string;
	readonly path: readonly string[];
	readonly back: number;
	readonly total: number;
	readonly items: readonly BackItem[];
}

/** Everything that goes back, twice; and how much of it already has. */
export interface PutBackList {
	readonly total: number;
	readonly back: number;
	readonly missing: number;
	readonly by_compartment: readonly BackGroup[];
	readonly by_system: readonly BackGroup[];
	readonly rings: readonly (readonly string[])[];
}

/** One item: its mass, in a sentence where that comes from, and what its sizes still lack. `compartment` is a key, '' for none; `why` the place of the sentence in the list's `whys`, which many items share. `not_used` says why sizes that were written down gave no mass, and what range would do; '' where there is nothing to say. */
export interface MassLine {
	readonly key: string;
	readonly name: string;
	readonly kind: string;
	readonly tags: readonly string[];
	readonly count: number;
	readonly system: string;
	readonly compartment: string;
	readonly whereabouts: string;
	readonly mass: Spread;
	readonly why: number;
	readonly not_used: string;
}

/** Everything of one system, compartment, basis or whereabouts, added up. */
export interface MassGroup {
	readonly key: string;
	readonly name: string;
	readonly path: readonly string[];
	readonly count: number;
	readonly mass: Spread;
	readonly weighed_share: number;
}

/** One weighing worth doing: the total after it and those before it, and what it takes off. `narrower_kg` is how much the distance from low to high shrinks by this one weighing. */
export interface WeighNext {
	readonly key: string;
	readonly name: string;
	readonly tags: readonly string[];
	readonly mass: Spread;
	readonly after: Spread;
	readonly narrower_kg: number;
}

/** What gives no mass: a weighing that can't be one, or a tank with nobody knows what in it. What was typed is kept. `of` names what was weighed, `tank/` with its item a tank, whose `weighing` is ''. */
export interface Uncounted {
	readonly weighing: string;
	readonly of: string;
	readonly name: string;
	readonly reason: string;
}

/** Every kilogram: the total, what of it was weighed, and which weighings would help most. */
export interface MassList {
	readonly total: Spread;
	readonly weighed_share: number;
	readonly by_system: readonly MassGroup[];
	readonly by_compartment: readonly MassGroup[];
	readonly by_basis: readonly MassGroup[];
	readonly by_whereabouts: readonly MassGroup[];
	readonly weigh_next: readonly WeighNext[];
	readonly uncounted: readonly Uncounted[];
	readonly items: readonly MassLine[];
	readonly whys: readonly string[];
	readonly sources: readonly string[];
}

/** One item of scrap; `dirty` says what spoils it for a dealer, as far as known. */
export interface ScrapItem {
	readonly key: string;
	readonly name: string;
	readonly tags: readonly string[];
	readonly count: number;
	readonly mass: Spread;
	readonly why: string;
	readonly dirty: readonly string[];
	readonly cautions: readonly string[];
}

/** Money from low to high, in one currency. */
export interface Value {
	readonly low: number;
	readonly likely: number;
	readonly high: number;
	readonly currency: string;
}

/** All scrap of one metal. `spec` is what its price is kept under; no price, no value. */
export interface ScrapMetal {
	readonly metal: string;
	readonly spec: string;
	readonly count: number;
	readonly mass: Spread;
	readonly weighed_share: number;
	readonly price_per_kg: number | null;
	readonly currency: string;
	readonly value: Value | null;
	readonly items: readonly ScrapItem[];
}

/** What a scrap dealer may take, by metal. `values` has one sum for each currency. */
export interface ScrapList {
	readonly total: Spread;
	readonly weighed_share: number;
	readonly metals: readonly ScrapMetal[];
	readonly unpriced: readonly string[];
	readonly values: readonly Value[];
	readonly cautions: readonly string[];
}

/** One item drawn from a tank; litres and kilograms as written down or worked out, or None. */
export interface Can {
	readonly key: string;
	readonly name: string;
	readonly tags: readonly string[];
	readonly litres: number | null;
	readonly kg: number | null;
}

/** What a sounding came to. `read` is the reading in words; `refused` says why it gave none. `rest` are litres that the pump leaves, `usable` what it can take. */
export interface Sounded {
	readonly key: string;
	readonly on: string;
	readonly read: string;
	readonly full: Spread | null;
	readonly liquid: Spread | null;
	readonly sludge: Spread | null;
	readonly usable: Spread | null;
	readonly kg: Spread | null;
	readonly sludge_kg: Spread | null;
	readonly density_kg_m3: number | null;
	readonly refused: string;
	readonly assumed: readonly string[];
}

/** What was in a tank, what was drawn off, what is left: litres. None is not known. `drawn` is what was drawn between `before` and `left`, `unaccounted` what the last sounding lacks beside the one before it; `said` names what does not add up. */
export interface Balance {
	readonly before: Spread | null;
	readonly drawn: number;
	readonly left: Spread | null;
	readonly unaccounted: number | null;
	readonly said: string;
}

/** A level in mm on the stick, and the litres there. */
export interface DipLine {
	readonly level_mm: number;
	readonly litres: number;
}

/** A tank's litres by centimetre on the stick, for a tilt; empty where its shape is unknown. */
export interface DipTable {
	readonly bow_up_deg: number;
	readonly starboard_down_deg: number;
	readonly capacity_l: number;
	readonly lines: readonly DipLine[];
}

/** One tank: its shape, its last sounding, and its balance. `refused` says why the shape holds nothing yet; `counts` is the last sounding that gave litres. `still_in` is what it holds now as far as known, of which `sludge_in` is sludge. `counted_as` names the items that stand for it in sums of masses and of waste; without any it stands there by itself. */
export interface TankLine {
	readonly key: string;
	readonly item: string;
	readonly name: string;
	readonly tags: readonly string[];
	readonly where: readonly string[];
	readonly gone: boolean;
	readonly shape: string;
	readonly liquid: string;
	readonly capacity_l: number | null;
	readonly rest_l: number | null;
	readonly refused: string;
	readonly last: Sounded | null;
	readonly counts: Sounded | null;
	readonly cans: readonly Can[];
	readonly balance: Balance;
	readonly still_in: Spread | null;
	readonly still_in_kg: Spread | null;
	readonly sludge_in: Spread | null;
	readonly counted_as: readonly string[];
	readonly dips: DipTable | null;
	readonly cautions: readonly string[];
}

/** Every tank of a boat. `open` names those of which nobody knows what is in them. `standing` is the line that goes with every list. */
export interface TankList {
	readonly tanks: readonly TankLine[];
	readonly litres: Spread;
	readonly kg: Spread;
	readonly open: readonly string[];
	readonly cautions: readonly string[];
	readonly standing: string;
}

/** A figure that is no mass: low, likely and high. */
export interface Reach {
	readonly low: number;
	readonly likely: number;
	readonly high: number;
}

/** What adds to a load (`sign` 1), comes off it (-1) or is in it already (0), and why. */
export interface OnHook {
	readonly key: string;
	readonly name: string;
	readonly sign: number;
	readonly mass: Spread;
	readonly why: string;
}

/** One leg: length in m, angle from the vertical, and what it pulls against what it may. `most_kg` is with the high mass, the allowance for jerks, and the middle of mass where it is worst for this leg. `rated_kg` None: nobody wrote it. `from_aft_m` ... place the eye. */
export interface LiftLeg {
	readonly eye: string;
	readonly name: string;
	readonly aft_m: number;
	readonly off_m: number;
	readonly up_m: number;
	readonly length_m: number;
	readonly angle_deg: number;
	readonly tension_kg: number;
	readonly most_kg: number;
	readonly rated_kg: number | null;
	readonly verdict: string;
}

/** One lift. `refused` says why there are no legs, and what would do; the entry is kept. */
export interface LiftLine {
	readonly key: string;
	readonly name: string;
	readonly item: string;
	readonly item_name: string;
	readonly tags: readonly string[];
	readonly on: string;
	readonly refused: string;
	readonly mass: Spread;
	readonly why: string;
	readonly parts: readonly OnHook[];
	readonly centre: readonly Reach[];
	readonly centre_how: string;
	readonly hook: readonly number[];
	readonly measured_from: string;
	readonly hook_kg: number;
	readonly hook_rated_kg: number | null;
	readonly hook_verdict: string;
	readonly tilt_deg: number;
	readonly swing_m: number;
	readonly legs: readonly LiftLeg[];
	readonly outside: string;
	readonly warnings: readonly string[];
	readonly asks: readonly string[];
}

/** All lifts, the cautions that come before them, and sources. */
export interface LiftList {
	readonly lifts: readonly LiftLine[];
	readonly cautions: readonly string[];
	readonly dynamic: number;
	readonly sources: readonly string[];
}

/** One figure of how the boat floats, and whether it was entered or estimated. */
export interface FloatFact {
	readonly name: string;
	readonly unit: string;
	readonly value: Reach;
	readonly how: string;
}

/** One item in the ledger: kg off below 0, on above 0, and where it sat. */
export interface Moved {
	readonly key: string;
	readonly name: string;
	readonly tags: readonly string[];
	readonly kg: number;
	readonly low_kg: number;
	readonly high_kg: number;
	readonly aft_m: number;
	readonly off_m: number;
	readonly how: string;
}

/** How she floats in one state of the work, against how she floated with everything aboard. Centimetres deeper above 0; `list_deg` to starboard above 0. None: not reckoned, for the reasons in `refused`; mass and moments are there all the same. */
export interface Floats {
	readonly id: string;
	readonly name: string;
	readonly mass: Reach;
	readonly sinkage_cm: Reach | null;
	readonly trim_cm: Reach | null;
	readonly fore_cm: Reach | null;
	readonly aft_cm: Reach | null;
	readonly draught_fore_m: number | null;
	readonly draught_aft_m: number | null;
	readonly list_deg: Reach | null;
	readonly refused: readonly string[];
	readonly moved: readonly Moved[];
}

/** What the picture is drawn from, in m; None: not known, and then `missing` names it. */
export interface BoatShape {
	readonly length_m: number | null;
	readonly beam_m: number | null;
	readonly draught_m: number | null;
	readonly overhang_m: number | null;
	readonly waterline_m: number | null;
}

/** How she floats now, and how she will after the work. */
export interface TrimList {
	readonly water: string;
	readonly facts: readonly FloatFact[];
	readonly states: readonly Floats[];
	readonly shape: BoatShape;
	readonly missing: readonly string[];
	readonly warnings: readonly string[];
	readonly sources: readonly string[];
}

/** A price for a line. `usable` is False where something is missing, said in the line. `pieces` is how many are in a pack, None of what is sold otherwise. */
export interface OrderOffer {
	readonly key: string;
	readonly amount: number | null;
	readonly currency: string;
	readonly per: string;
	readonly length_mm: number | null;
	readonly supplier: string;
	readonly usable: boolean;
	readonly taken: boolean;
	readonly pieces: number | null;
}

/** One length to cut: for which run, by its tag; `by_measure` False: nobody measured it. */
export interface SheetPiece {
	readonly item: string;
	readonly name: string;
	readonly tags: readonly string[];
	readonly length_mm: number;
	readonly ends: readonly string[];
	readonly by_measure: boolean;
}

/** One reel or length, its cuts in order, and what remains. `from_shed`: bought before. */
export interface SheetStock {
	readonly name: string;
	readonly length_mm: number;
	readonly from_shed: boolean;
	readonly pieces: readonly SheetPiece[];
	readonly kerf_mm: number;
	readonly left_mm: number;
}

/** How a line is cut. `cost` and `bound` None: no price, so the least length was looked for. `bound`: no plan can cost less; `least_mm` the same in length. `proven`: nothing better exists. */
export interface CutSheet {
	readonly stock: readonly SheetStock[];
	readonly by_metre: readonly SheetPiece[];
	readonly too_long: readonly SheetPiece[];
	readonly cost: number | null;
	readonly bound: number | null;
	readonly currency: string;
	readonly bought_mm: number;
	readonly least_mm: number;
	readonly proven: boolean;
	readonly kerf_mm: number;
}

/** One line to buy. Days are ISO 8601, empty where nobody wrote them. `cost` None: not known yet; `asks` says what is missing. `new_parts` are tags of new parts that take the place of old ones; `fitted_parts` how many of them are aboard. `buy_as` says how many packs and pieces that is, empty for what is cut or has no price; `sellers` who asks the least for it, as far as they are named. */
export interface OrderLine {
	readonly id: string;
	readonly spec: string;
	readonly system: string;
	readonly systems: readonly string[];
	readonly size: string;
	readonly standard: string;
	readonly details: readonly string[];
	readonly count: number;
	readonly order_mm: number | null;
	readonly tags: readonly string[];
	readonly items: readonly string[];
	readonly state: "to buy" | "bought" | "arrived" | "fitted";
	readonly bought: string;
	readonly arrived: string;
	readonly fitted: string;
	readonly supplier: string;
	readonly substitute: string;
	readonly note: string;
	readonly cost: number | null;
	readonly currency: string;
	readonly offers: readonly OrderOffer[];
	readonly cut: CutSheet | null;
	readonly asks: readonly string[];
	readonly new_parts: readonly string[];
	readonly fitted_parts: number;
	readonly buy_as: string;
	readonly kind: string;
	readonly sellers: readonly string[];
}

/** Money of one currency: still to be spent, and spent; what has no price is in neither. */
export interface OrderTotal {
	readonly currency: string;
	readonly to_buy: number;
	readonly bought: number;
}

/** Every line, in the order of the systems; `unpriced` is how many lines have no price. */
export interface OrderList {
	readonly lines: readonly OrderLine[];
	readonly totals: readonly OrderTotal[];
	readonly unpriced: number;
	readonly cautions: readonly string[];
}

/** One conductor against one load: what it bears and drops, and every reason why it won't do. `bears_a` is after temperature and bundle; 0 where the table has none so thin. `fuses` are ratings in A that the load lets be and the wire bears. */
export interface WireFit {
	readonly name: string;
	readonly mm2: number;
	readonly bears_a: number;
	readonly drop_v: number;
	readonly drop_share: number;
	readonly fuses: readonly number[];
	readonly fails: readonly string[];
}

/** The thinnest wire for a load, by gauge and in mm2, and the old and the taken one beside it. `asks` is what has to be written first, `refused` why the method doesn't reach; then the rest says nothing. `assumed` is what nobody said and was counted at its worst. */
export interface WireSizing {
	readonly refused: string;
	readonly asks: readonly string[];
	readonly assumed: readonly string[];
	readonly notes: readonly string[];
	readonly amps: number;
	readonly fuse_from_a: number;
	readonly there_and_back_m: number;
	readonly allowed_share: number;
	readonly allowed_v: number;
	readonly ambient_c: number;
	readonly ambient_share: number;
	readonly bundle_share: number;
	readonly insulation_c: number;
	readonly gauge: WireFit | null;
	readonly metric: WireFit | null;
	readonly old: WireFit | null;
	readonly old_words: string;
	readonly taken: WireFit | null;
	readonly taken_words: string;
}

/** One end of a run: what it goes to, whether that feeds it, and the ring that it wants. */
export interface CircuitEnd {
	readonly to: string;
	readonly feeds: boolean;
	readonly stud: string;
	readonly ring: string;
}

/** One run of cable as it was, what it takes, and how it stands on the order. `order_size` with `order_how`: taken, or copied from the old one and not sized. */
export interface CircuitLine {
	readonly key: string;
	readonly name: string;
	readonly tags: readonly string[];
	readonly system: string;
	readonly current: string;
	readonly old_size: string;
	readonly fuse_a: number | null;
	readonly length_mm: number | null;
	readonly ends: readonly CircuitEnd[];
	readonly conductors: number;
	readonly trunking: string;
	readonly sizing: WireSizing;
	readonly verdict: string;
	readonly order_size: string;
	readonly order_how: string;
}

/** Terminals, fuses or trunking to buy: how many, or how long, and for which runs. `fill` says how full a trunking gets, empty where that is not known; `too_full`: more than is practice. */
export interface WirePart {
	readonly sort: string;
	readonly name: string;
	readonly count: number;
	readonly length_mm: number | null;
	readonly runs: readonly string[];
	readonly items: readonly string[];
	readonly fill: string;
	readonly too_full: boolean;
}

/** All runs of cable, the parts at their ends, cautions, what the method covers, sources. */
export interface CircuitList {
	readonly circuits: readonly CircuitLine[];
	readonly parts: readonly WirePart[];
	readonly cautions: readonly string[];
	readonly ranges: readonly string[];
	readonly sources: readonly string[];
}

/** What came up in a calendar month (or year), what of it is counted, and what went. `step` is the category that the counted likely mass means, `step_high` that of the high. */
export interface MonthLine {
	readonly period: string;
	readonly came_up: Spread;
	readonly hazardous: Spread;
	readonly counted: Spread;
	readonly gone: Spread;
	readonly step: string;
	readonly step_high: string;
}

/** A limit in kilograms and how near it is; `day` is when it is reached at the present rate. `day_high` is the same with the spread's high value. Days are ISO 8601, empty where the limit is not reached before the period ends, or nothing comes in. */
export interface Limit {
	readonly name: string;
	readonly limit_kg: number;
	readonly now: Spread;
	readonly share: number;
	readonly warn: "" | "near" | "may be over" | "over";
	readonly day: string;
	readonly day_high: string;
	readonly meaning: string;
	readonly sources: readonly string[];
}

/** How long something may still stand here; `left` in days, below nothing when it is late. With no day known, `since` and `due` are empty and `left` is None. */
export interface Standing {
	readonly key: string;
	readonly table: string;
	readonly name: string;
	readonly since: string;
	readonly due: string;
	readonly left: number | null;
	readonly warn: "" | "near" | "may be over" | "over";
	readonly days: number;
}

/** One stream on site and gone; `left_out` says why it isn't counted, empty where it is. */
export interface StreamAmount {
	readonly id: string;
	readonly name: string;
	readonly code: string;
	readonly hazardous: boolean;
	readonly on_site: Spread;
	readonly gone: Spread;
	readonly left_out: string;
}

/** Amounts over time under one rule set; `applies`: whether any categories hold here. `step` is the category of the present period by `counted_now`, `step_high` the one by its high value. `undated` is what came out on no known day: it is in no month, but its counted part is in `counted_now`. `aboard` is waste to come. `kg_a_month` is the rate of what is counted, from the last ninety days. */
export interface Quantities {
	readonly rule_set: string;
	readonly rule_set_name: string;
	readonly dated: string;
	readonly holder: string;
	readonly applies: boolean;
	readonly ladder: string;
	readonly step: string;
	readonly step_high: string;
	readonly counted_now: Spread;
	readonly on_site: Spread;
	readonly on_site_counted: Spread;
	readonly aboard: Spread;
	readonly gone: Spread;
	readonly gone_undated: Spread;
	readonly undated: Spread;
	readonly undated_counted: Spread;
	readonly kg_a_month: number;
	readonly months: readonly MonthLine[];
	readonly limits: readonly Limit[];
	readonly standing: readonly Standing[];
	readonly streams: readonly StreamAmount[];
	readonly sayings: readonly string[];
	readonly no_limits: string;
}

/** What can't be right, and what to do; `of` is a table and a key: `container/key`. */
export interface Fault {
	readonly of: string;
	readonly name: string;
	readonly say: string;
	readonly do: string;
}

/** One thing in a container; `volume_l` None: nobody said. */
export interface BoxLine {
	readonly key: string;
	readonly name: string;
	readonly tags: readonly string[];
	readonly count: number;
	readonly mass: Spread;
	readonly stream: string;
	readonly volume_l: number | null;
	readonly since: string;
}

/** A container with what is in it. Masses are kg, volumes litres, shares 0 to 1 and above. `inside` is the weighed content where there is one, else the sum of the lines. `filled` is the share of the volume: what somebody saw, else the litres that are known; None: neither. `without_litres` counts lines that say no volume. `loaded` is the share of the mass limit by the likely mass, `loaded_high` by the high one. */
export interface BoxView {
	readonly key: string;
	readonly name: string;
	readonly sort: string;
	readonly tags: readonly string[];
	readonly stream: string;
	readonly stream_name: string;
	readonly place: string;
	readonly capacity_l: number | null;
	readonly limit_kg: number | null;
	readonly tare_kg: number | null;
	readonly inside: Spread;
	readonly litres: number;
	readonly without_litres: number;
	readonly filled: number | null;
	readonly loaded: number | null;
	readonly loaded_high: number | null;
	readonly opened: string;
	readonly closed: string;
	readonly gone: boolean;
	readonly handover: string;
	readonly lines: readonly BoxLine[];
	readonly bans: readonly Ban[];
	readonly faults: readonly Fault[];
	readonly cautions: readonly string[];
	readonly keep_in: string;
}

/** All containers: those that stand here first, then those that have gone. */
export interface BoxList {
	readonly boxes: readonly BoxView[];
}

/** What was written about a handover: the day (ISO 8601), who took and who carried it. */
export interface Papers {
	readonly on: string;
	readonly to: string;
	readonly carrier: string;
	readonly document: string;
	readonly note: string;
}

/** The list of a handover as it was when it left. `digest` is SHA-256 over the kept bytes. `waste` holds only what went, `papers` what was written about it then; `edition` and `rules_version` are those used. */
export interface FrozenList {
	readonly digest: string;
	readonly papers: Papers;
	readonly frozen_at: string;
	readonly rule_set_name: string;
	readonly edition: string;
	readonly rules_version: string;
	readonly waste: WasteList;
}

/** What somebody wrote after the list had gone. */
export interface CorrectionLine {
	readonly key: string;
	readonly on: string;
	readonly who: string;
	readonly text: string;
	readonly name: string;
	readonly mass_kg: number | null;
}

/** A handover. While `frozen` is None, `waste` is its list as it stands now. */
export interface HandoverView {
	readonly key: string;
	readonly on: string;
	readonly to: string;
	readonly carrier: string;
	readonly document: string;
	readonly note: string;
	readonly sealed: boolean;
	readonly frozen: FrozenList | null;
	readonly waste: WasteList | null;
	readonly corrections: readonly CorrectionLine[];
	readonly bans: readonly Ban[];
	readonly faults: readonly Fault[];
}

/** All handovers, the latest first. */
export interface HandoverList {
	readonly handovers: readonly HandoverView[];
}
