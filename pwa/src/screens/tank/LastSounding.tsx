/** What the server made of the last sounding it had, and what this phone holds that it had not. */
import type { Sounded, Spread, Tank, TankLine } from "../../domain/contract.ts";
import { boat } from "../../storage/boat.ts";
import { lists } from "../../sync/lists.ts";
import { Notice } from "../../ui/Notice.tsx";
import { ago, day } from "../../ui/words.ts";

export function LastSounding({ tank }: { tank: Tank }) {
	const aged = lists.value.tanks;
	const line = aged?.list.tanks.find(({ key }) => key === tank.key);
	const newest = [...boat.table("sounding").value.values()]
		.filter((row) => row.tank === tank.key)
		.sort((a, b) => (b.on ?? "").localeCompare(a.on ?? ""))[0];
	if (!newest && !line) return null;
	const waits = newest && newest.key !== line?.last?.key;
	return (
		<section class="part">
			<h2>Last sounding</h2>
			{waits && (
				<p class="part-note">
					{newest.how ?? "dip"} {newest.level_mm ?? "?"} mm
					{newest.on ? `, ${day(new Date(newest.on))}` : ""}, kept. Its litres wait for the server.
				</p>
			)}
			{line?.last && <Result last={line.last} />}
			{line && <Rest line={line} />}
			{aged && (
				<p class="small pencil part-tight">
					Worked out by the server {ago(Date.parse(aged.madeAt), Date.now())}.
				</p>
			)}
		</section>
	);
}

function Result({ last }: { last: Sounded }) {
	return (
		<>
			{last.refused && <Notice sort="asks">The sounding stays as it is: {last.refused}.</Notice>}
			{last.liquid && <Line of={last.liquid} unit="L" says="liquid" />}
			{last.kg && <Line of={last.kg} unit="kg" says="of it" />}
			{last.sludge && last.sludge.likely > 0 && <Line of={last.sludge} unit="L" says="sludge" />}
			{last.usable && <Line of={last.usable} unit="L" says="can be pumped out" />}
			{last.assumed.length > 0 && <p class="small pencil part-tight">{last.assumed.join(" ")}</p>}
		</>
	);
}

function Rest({ line }: { line: TankLine }) {
	return (
		<>
			{line.refused && !line.last && <Notice sort="asks">No litres yet: {line.refused}.</Notice>}
			{line.balance.drawn > 0 && (
				<p class="part-tight">{Math.round(line.balance.drawn)} L drawn off into cans.</p>
			)}
			{line.still_in && line.balance.drawn > 0 && (
				<Line of={line.still_in} unit="L" says="still in it" />
			)}
			{line.balance.said && <Notice sort="asks">{line.balance.said}</Notice>}
			{(line.counted_as ?? []).length > 0 && (
				<p class="part-tight">
					Counted in sums as the item {line.counted_as.map((name) => `“${name}”`).join(", ")}.
				</p>
			)}
		</>
	);
}

function Line({ of, unit, says }: { of: Spread; unit: string; says: string }) {
	return (
		<p>
			<b>
				{Math.round(of.likely)} {unit}
			</b>{" "}
			{says}, {Math.round(of.low)} to {Math.round(of.high)} {unit}
		</p>
	);
}
