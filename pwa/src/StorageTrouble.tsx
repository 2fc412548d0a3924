/** Shown in place of the app while the phone's database can't be opened. */
export function StorageTrouble() {
	return (
		<main>
			<h1 role="alert">The storage of this browser does not open</h1>
			<p>
				What you kept is still on this phone; it can't be read right now. Close all pages of
				Shedtally and open it once more. In a private window nothing can be kept: use a normal one.
			</p>
			<button type="button" onClick={() => location.reload()}>
				Try again
			</button>
		</main>
	);
}
