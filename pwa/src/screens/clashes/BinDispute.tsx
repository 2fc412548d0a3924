/** One phone put a record into the bin while another worked on it. */
import { useEffect, useState } from "preact/hooks";
import type { TableName } from "../../domain/contract.ts";
import { isTable } from "../../domain/read.ts";
import { history } from "../../storage/boat.ts";
import type { ClashSide } from "../../sync/clashes.ts";
import { RecordCard, subjectName } from "../common/RecordCard.tsx";
import { tell } from "../common/tell.ts";
import { NAMES } from "../common/tellers.ts";
import type { Dispute } from "./disputes.ts";
import { Side } from "./Side.tsx";
import type { Settle } from "./settle.ts";

export function BinDispute({ dispute, settle }: { dispute: Dispute; settle: Settle }) {
	const { table, key, sides } = dispute;
	const name = subjectName(table, key);
	return (
		<li class="clash">
			<RecordCard table={table} recordKey={key} />
			<h2 class="clash-field">In the bin, or still needed</h2>
			{sides.map((side, at) =>
				side.value === true ? (
					<Side
						key="bin"
						side={side}
						stands={at === 0}
						does="Bin it"
						onTap={() => void settle(side, `${name} is in the bin.`)}
					>
						Put in the bin
					</Side>
				) : (
					<Side
						key="keep"
						side={side}
						stands={at === 0}
						does="Keep it"
						onTap={() => void settle({ ...side, value: false }, `${name} is kept.`)}
					>
						<Work table={table} recordKey={key} side={side} />
					</Side>
				),
			)}
		</li>
	);
}

/** What the other phone wrote in it meanwhile, as far as this phone holds it. */
function Work(props: { table: string; recordKey: string; side: ClashSide }) {
	const { table, recordKey, side } = props;
	const [said, setSaid] = useState("Worked on");
	useEffect(() => {
		if (!isTable(table)) return;
		void workOf(table, recordKey, side).then((words) => {
			if (words) setSaid(words);
		});
	}, [table, recordKey, side.change]);
	return <>{said}</>;
}

async function workOf(table: TableName, key: string, side: ClashSide): Promise<string> {
	const found = (await history(table, key)).find(({ id }) => id === side.change);
	return found ? tell(found, NAMES).join(". ") : "";
}
