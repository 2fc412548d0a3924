/** A new lift: kept at once, then opened. */
import { newKey } from "../../storage/boat.ts";
import { go } from "../../ui/router.ts";
import { keepOrSay } from "../common/keeping.ts";
import { PATHS } from "../paths.ts";

export async function startLift(item: string): Promise<string | null> {
	const key = newKey();
	const set = { of: item, on: new Date().toISOString() };
	const fault = await keepOrSay([{ table: "lift", key, set }]);
	if (fault === null) go(PATHS.lift(key));
	return fault;
}
