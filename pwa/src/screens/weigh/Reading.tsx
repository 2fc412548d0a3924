/**
 * What the scale shows. Keeping comes first: a reading that can't be a mass is kept as typed, and
 * the screen says why it does not count and keeps what was typed, to be put right.
 */
import { useRef, useState } from "preact/hooks";
import type { Item } from "../../domain/contract.ts";
import { groupedBy } from "../../domain/grouped.ts";
import { parseMassKg } from "../../domain/measure.ts";
import { lastDivision, netOf, weighingsOf } from "../../domain/weighing.ts";
import { boat, newKey } from "../../storage/boat.ts";
import { SelectField } from "../../ui/Field.tsx";
import { FigureField } from "../../ui/FigureField.tsx";
import { Notice } from "../../ui/Notice.tsx";
import { clock } from "../../ui/words.ts";
import { keepOrSay } from "../common/keeping.ts";
import { Before } from "./Before.tsx";
import { editsOf, type Typed } from "./edits.ts";
import type { Subject } from "./subject.ts";
import { Ticked } from "./Ticked.tsx";

const SCALE = "kg; or 800 g, 26 lb";
const DIVISIONS = [0.001, 0.005, 0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1, 2, 5] as const;
const inPlace = groupedBy((item: Item) => item.place);
const inContainer = groupedBy((item: Item) => item.container);

interface Props {
	subject: Subject;
	onNext: () => void;
	onAgain: () => void;
}

interface Said {
	readonly sort: "done" | "asks";
	readonly words: string;
}

export function Reading({ subject, onNext, onAgain }: Props) {
	const target = `${subject.table}/${subject.key}`;
	const earlier = weighingsOf(boat.table("weighing").value, target);
	const inside = itemsIn(subject);
	const [gross, setGross] = useState("");
	const [tare, setTare] = useState(() => tareText(subject, earlier[0]?.tare_kg ?? null));
	const [division, setDivision] = useState(() => lastDivision(boat.table("weighing").value));
	const [left, setLeft] = useState<ReadonlySet<string>>(new Set());
	const [said, setSaid] = useState<Said | null>(null);
	const [counts, setCounts] = useState(false);
	const key = useRef(newKey());
	const typed: Typed = { gross: read(gross), tare: read(tare), division };
	const ticked = inside.filter((item) => !left.has(item.key));
	const found = netOf({ gross_kg: typed.gross.kg, tare_kg: typed.tare.kg, division_kg: division });

	const keep = async (event: Event): Promise<void> => {
		event.preventDefault();
		const fault = await keepOrSay(editsOf(subject, key.current, typed, ticked, inside));
		if (fault) return setSaid({ sort: "asks", words: `Not kept: ${fault}` });
		const why = typed.gross.why ?? typed.tare.why ?? ("why" in found ? found.why : null);
		setCounts(why === null);
		setSaid(
			why === null
				? { sort: "done", words: `Kept on this phone, ${clock(new Date())}.` }
				: { sort: "asks", words: `Kept as you typed it, but it does not count yet: ${why}` },
		);
	};
	const undo = async (): Promise<void> => {
		const set = { binned: true } as const;
		const fault = await keepOrSay([{ table: "weighing", key: key.current, set }]);
		if (fault) setSaid({ sort: "asks", words: `Not taken back: ${fault}` });
		else onAgain();
	};
	return (
		<>
			<form onSubmit={(event) => void keep(event)}>
				<Net found={gross.trim() === "" ? null : found} />
				<div class="pair-of-fields">
					<FigureField
						large
						hint={SCALE}
						label="Scale shows, full"
						value={gross}
						onType={setGross}
						why={typed.gross.why}
					/>
					<FigureField
						large
						hint={SCALE}
						label="Empty: crate, sling"
						value={tare}
						onType={setTare}
						why={typed.tare.why}
					/>
				</div>
				<SelectField
					label="The scale counts in"
					value={division === null ? "" : String(division)}
					onChange={(text) => setDivision(text === "" ? null : Number(text))}
				>
					<option value="">Not known</option>
					{DIVISIONS.map((kg) => (
						<option key={kg} value={String(kg)}>
							{kg < 1 ? `${Math.round(kg * 1000)} g` : `${kg} kg`}
						</option>
					))}
				</SelectField>
				{subject.table !== "item" && <Ticked items={inside} left={left} onChange={setLeft} />}
				<button type="submit" class="button button-main button-wide button-hot weigh-keep">
					Keep this weighing
				</button>
			</form>
			{said && (
				<Notice sort={said.sort} role={said.sort === "done" ? "status" : "alert"}>
					{said.words}
				</Notice>
			)}
			{counts && (
				<div class="buttons">
					<button type="button" class="button" onClick={onNext}>
						Weigh the next thing
					</button>
					<button type="button" class="button" onClick={() => void undo()}>
						Take it back
					</button>
				</div>
			)}
			<Before rows={earlier.filter((row) => row.key !== key.current)} />
		</>
	);
}

function Net({ found }: { found: ReturnType<typeof netOf> | null }) {
	const kg = found && "kg" in found ? found.kg : null;
	return (
		<p class="weigh-net" aria-live="polite">
			<span class="weigh-figure">{kg === null ? "–" : Number(kg.toFixed(3))}</span> kg
			<span class="weigh-under">{kg === null ? "full less empty" : "on the scale"}</span>
		</p>
	);
}

/** A bare number is kilograms here: a scale shows nothing else, and gloves type no units. */
function read(text: string): { kg: number | null; why: string | null; text: string } {
	const bare = text.trim();
	if (bare === "") return { kg: null, why: null, text: bare };
	try {
		return {
			kg: parseMassKg(/^[0-9.,]+$/.test(bare) ? `${bare} kg` : bare),
			why: null,
			text: bare,
		};
	} catch (error) {
		if (error instanceof Error) return { kg: null, why: error.message, text: bare };
		throw error;
	}
}

function itemsIn({ table, key }: Subject): readonly Item[] {
	const items = boat.table("item").value;
	if (table === "place") return inPlace(items, key);
	return table === "container" ? inContainer(items, key) : [];
}

/** What it weighed empty the last time; of a container what is written on it. */
function tareText({ table, key }: Subject, last: number | null): string {
	const own = table === "container" ? boat.table("container").value.get(key)?.tare_kg : null;
	const kg = last ?? own ?? null;
	return kg === null ? "" : String(kg);
}
