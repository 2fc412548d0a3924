/** Files of local rules that can't be used as they stand; said wherever a rule set is chosen. */
import { rules } from "../../storage/rules.ts";
import { Notice } from "../../ui/Notice.tsx";

export function LocalRulesState() {
	const broken = rules.value?.local_files?.filter((file) => file.problem !== "") ?? [];
	return (
		<>
			{broken.map((file) => (
				<Notice key={file.name} sort="asks" word="Local rules" role="status">
					{file.name}: {file.problem}{" "}
					{file.older_used
						? "Its last good state is used until it is put right."
						: "It is not used until it is put right."}
				</Notice>
			))}
		</>
	);
}
