/** What comes before a piece of work and what after it: written, taken back, rings refused. */
import { useState } from "preact/hooks";
import type { Before } from "../../domain/contract.ts";
import { boat, newKey } from "../../storage/boat.ts";
import { TextField } from "../../ui/Field.tsx";
import { Notice } from "../../ui/Notice.tsx";
import { keepOrSay } from "../common/keeping.ts";
import { workRecords } from "../work/open.ts";
import { PickStep } from "./PickStep.tsx";
import "./orders.css";
import { idleOf, orderFault, targetName, targetPath } from "./targets.ts";

type Side = "first" | "then";

export function OrdersPart({ target }: { target: string }) {
	const [picking, setPicking] = useState<Side | null>(null);
	const [fault, setFault] = useState<string | null>(null);
	const [said, setSaid] = useState<string | null>(null);
	const befores = [...boat.table("before").value.values()];
	const open = (side: Side): void => {
		setFault(null);
		setSaid(null);
		setPicking(side);
	};
	const pick = async (other: string): Promise<void> => {
		const [first, then] = picking === "first" ? [other, target] : [target, other];
		const why =
			orderFault(workRecords(), first, then) ??
			(await keepOrSay([{ table: "before", key: newKey(), set: { first, then } }]));
		setFault(why);
		if (why) return;
		setPicking(null);
		setSaid(`${targetName(first)} before ${targetName(then)}: kept on this phone.`);
	};
	return (
		<section class="part">
			<h2>Order of work</h2>
			<Rows
				legend="Must come first"
				rows={befores.filter((row) => row.then === target)}
				side="first"
			/>
			<Rows
				legend="Waits for it"
				rows={befores.filter((row) => row.first === target)}
				side="then"
			/>
			{said && (
				<Notice sort="done" role="status">
					{said}
				</Notice>
			)}
			<div class="buttons">
				<button type="button" class="button" onClick={() => open("first")}>
					What must come first
				</button>
				<button type="button" class="button" onClick={() => open("then")}>
					What waits for it
				</button>
			</div>
			{picking && (
				<PickStep
					title={
						picking === "first"
							? `What comes before ${targetName(target)}`
							: `What waits for ${targetName(target)}`
					}
					of={target}
					fault={fault}
					onPick={(other) => void pick(other)}
					onClose={() => setPicking(null)}
				/>
			)}
		</section>
	);
}

function Rows({ legend, rows, side }: { legend: string; rows: readonly Before[]; side: Side }) {
	if (rows.length === 0) return null;
	return (
		<>
			<h3>{legend}</h3>
			<ul class="rows">
				{rows.map((row) => (
					<OrderRow key={row.key} row={row} side={side} />
				))}
			</ul>
		</>
	);
}

/** One order, shown by its other side, with why it stands and whether it still holds anything. */
export function OrderRow({ row, side }: { row: Before; side: Side }) {
	const [telling, setTelling] = useState(false);
	const [fault, setFault] = useState<string | null>(null);
	const other = row[side];
	const pair = `${targetName(row.first)} before ${targetName(row.then)}`;
	const idle = idleOf(row);
	const name = targetName(other);
	return (
		<li class="row order-row">
			<a class="row-main" href={targetPath(other)}>
				<span class="row-title">{name}</span>
				{row.why && <span class="row-under">{row.why}</span>}
				{idle && <span class="row-under">{idle}</span>}
			</a>
			<span class="buttons">
				<button
					type="button"
					class="button button-quiet"
					aria-expanded={telling}
					aria-label={`Why: ${pair}`}
					onClick={() => setTelling(!telling)}
				>
					Why
				</button>
				<button
					type="button"
					class="button button-quiet"
					aria-label={`Take back: ${pair}`}
					onClick={() =>
						void keepOrSay([{ table: "before", key: row.key, set: { binned: true } }]).then(
							setFault,
						)
					}
				>
					Take back
				</button>
			</span>
			{telling && (
				<TextField
					label="Why this order stands"
					value={row.why ?? ""}
					longest={200}
					onKeep={(text) => {
						void keepOrSay([{ table: "before", key: row.key, set: { why: text || null } }]).then(
							setFault,
						);
						return null;
					}}
				/>
			)}
			{fault && (
				<Notice sort="asks" role="alert">
					{fault}
				</Notice>
			)}
		</li>
	);
}
