/** What must be done, in order, with a thing that can hurt whoever handles it. */
import type { PathForPhone } from "../../domain/rules.ts";
import { Notice } from "../../ui/Notice.tsx";

export function PathSteps({ of }: { of: readonly PathForPhone[] }) {
	return (
		<>
			{of.map((path) => (
				<Notice key={path.id} sort="danger" word={path.name}>
					{path.danger}
					<ol class="steps">
						{path.steps.map((step) => (
							<li key={step}>{step}</li>
						))}
					</ol>
					<p class="small">
						Local rules and licensed firms come first. Source: {path.sources.join("; ")}.
					</p>
				</Notice>
			))}
		</>
	);
}
