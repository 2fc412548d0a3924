import { expect, it } from "vitest";
import { PROBLEMS } from "../domain/problems.ts";
import { kindOf, type ProblemKind } from "./problem.ts";

/** What the phone makes of each thing that the server's own table tells it to do. */
const FITTING: Readonly<Record<string, readonly ProblemKind[]>> = {
	"pair again": ["pair again"],
	"retry later": ["busy", "server full", "server trouble"],
	"ask the person": ["refused", "reload"],
	"set this one aside": ["refused"],
	"read anew": ["refused"],
	"stop and report": ["refused"],
};

/** Refused as such; what sends them then goes on with the others and tries these again. */
const TRIED_AGAIN_BY_THE_SENDER = ["photo-cut-short", "photo-digest", "no-such-photo"];

it.each(Object.entries(PROBLEMS))(
	"%s is met as the server's table says",
	(slug, { status, does }) => {
		const kind = kindOf({
			type: `https://shed.test/problems/${slug}`,
			title: "",
			status,
			detail: "",
		});
		if (TRIED_AGAIN_BY_THE_SENDER.includes(slug)) expect(kind).toBe("refused");
		else expect(FITTING[does]).toContain(kind);
	},
);
