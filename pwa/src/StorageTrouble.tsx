/** Shown in place of the app while the phone's database can't be opened. */
export function StorageTrouble() {
	return (
		<main>
			<div role="alert">
				<h1>The storage of this browser does not open</h1>
				<p>
					What you kept is still on this phone; it can't be read right now. Close all pages of
					Shedtally and open it once more. In a private window nothing can be kept: use a normal
					one.
				</p>
			</div>
			<button type="button" onClick={() => location.reload()}>
				Try again
			</button>
		</main>
	);
}
