/** Shown in place of the app while the phone's database can't be opened. */
import "./ui/index.css";

export function StorageTrouble() {
	return (
		<main class="screen">
			<div class="screen-inner">
				<div role="alert">
					<h1>The storage of this browser does not open</h1>
					<p class="part-note">
						What you kept is still on this phone; it can't be read right now. Close all pages of
						Shedtally and open it once more. In a private window nothing can be kept: use a normal
						one.
					</p>
				</div>
				<div class="buttons">
					<button
						type="button"
						class="button button-main button-wide"
						onClick={() => location.reload()}
					>
						Try again
					</button>
				</div>
			</div>
		</main>
	);
}
