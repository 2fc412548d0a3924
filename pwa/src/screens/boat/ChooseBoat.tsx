/** More than one boat on the server: which one this phone works on now. */
import { chooseBoat, session } from "../../sync/session.ts";
import { Screen } from "../../ui/Screen.tsx";
import { PATHS } from "../paths.ts";

export function ChooseBoat() {
	return (
		<Screen title="Which boat" under="It can be changed later, under Boat.">
			<div class="rows">
				{session.value.boats.map(({ key, name }) => (
					<button key={key} type="button" class="row" onClick={() => void chooseBoat(key)}>
						<span class="row-main row-title">{name || "Unnamed boat"}</span>
					</button>
				))}
			</div>
			<div class="buttons">
				<a class="button" href={PATHS.newBoat}>
					Begin another boat
				</a>
			</div>
		</Screen>
	);
}
