import { describe, expect, it } from "vitest";
import vectors from "../../../fixtures/contract/threads.json" with { type: "json" };
import type { RenewalRules } from "./renewalRules.ts";
import { parseThread } from "./thread.ts";
import { Unreadable } from "./unreadable.ts";

const RULES = vectors.rules as unknown as RenewalRules;

describe("a thread as people write it", () => {
	it.each(vectors.cases.map((one) => [one.text, one] as const))(
		"is read as on the server: %s",
		(text, { thread, fault }) => {
			if (fault !== undefined) {
				expect(() => parseThread(text, RULES)).toThrow(new Unreadable(fault));
				return;
			}
			expect(parseThread(text, RULES)).toEqual(thread);
		},
	);
});
