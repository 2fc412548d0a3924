// Generated from the server's declarations by `python -m shedtally.contract`.
// Edit domain/records/, a lists.py or problem_kinds.py and run it again; a test compares.

/** What the phone does about a problem. */
export type PhoneDoes =
	| "retry later"
	| "ask the person"
	| "pair again"
	| "set this one aside"
	| "read anew"
	| "stop and report";

/** Every kind of problem of the server: its status, and what the phone does. */
export const PROBLEMS = {
	"not-paired": { status: 401, does: "pair again" },
	"pairing-code": { status: 403, does: "ask the person" },
	"too-many-tries": { status: 429, does: "retry later" },
	"not-from-here": { status: 403, does: "stop and report" },
	"unknown-host": { status: 400, does: "ask the person" },
	"no-such-page": { status: 404, does: "stop and report" },
	"no-such-boat": { status: 404, does: "ask the person" },
	"no-such-device": { status: 404, does: "ask the person" },
	"no-such-photo": { status: 404, does: "retry later" },
	"no-such-tag-block": { status: 404, does: "ask the person" },
	"no-such-rule-set": { status: 404, does: "ask the person" },
	"no-such-sheet": { status: 404, does: "ask the person" },
	"wrong-method": { status: 405, does: "stop and report" },
	"client-too-old": { status: 426, does: "ask the person" },
	"length-required": { status: 411, does: "stop and report" },
	"too-large": { status: 413, does: "set this one aside" },
	"wrong-type": { status: 415, does: "set this one aside" },
	unreadable: { status: 400, does: "stop and report" },
	invalid: { status: 422, does: "ask the person" },
	"photo-cut-short": { status: 422, does: "retry later" },
	"photo-digest": { status: 422, does: "retry later" },
	"not-a-picture": { status: 422, does: "set this one aside" },
	"too-many-pixels": { status: 422, does: "set this one aside" },
	"cursor-unknown": { status: 409, does: "read anew" },
	"rescue-unreadable": { status: 422, does: "ask the person" },
	"rescue-other-server": { status: 409, does: "ask the person" },
	"tags-used-up": { status: 409, does: "stop and report" },
	"not-printable": { status: 422, does: "ask the person" },
	"disk-full": { status: 507, does: "retry later" },
	"server-busy": { status: 503, does: "retry later" },
	"server-fault": { status: 500, does: "retry later" },
} as const satisfies Record<string, { status: number; does: PhoneDoes }>;
