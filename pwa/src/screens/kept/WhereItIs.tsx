/** The three places where work can be: on this phone only, on the server, on a second phone. */
import { boat } from "../../storage/memory.ts";
import { session } from "../../sync/session.ts";
import type { SyncState } from "../../sync/state.ts";
import { State } from "../../ui/State.tsx";
import { waitingWords } from "../common/standing.ts";
import { isOnSecondPhone, secondPhoneWords, serverWords } from "../common/whereItIs.ts";

export function WhereItIs({ state }: { state: SyncState }) {
	const { received } = session.value;
	const key = boat.key.value;
	const waiting = waitingWords(state);
	const words = secondPhoneWords(state, received, key, Date.now());
	return (
		<section class="part">
			<h2>Where your work is</h2>
			<dl class="facts">
				<dt>Here only</dt>
				<dd>{waiting ? <State is="danger">{waiting}</State> : "nothing"}</dd>
				<dt>Server</dt>
				<dd>{serverWords(received)}</dd>
				<dt>Second phone</dt>
				<dd>{isOnSecondPhone(state, received, key) ? <State is="out">{words}</State> : words}</dd>
			</dl>
			<p class="part-note">
				Other phones fetch photographs small, and full only when asked; the full ones are on the
				server.
			</p>
		</section>
	);
}
