/** The screens, by address. */
export function App() {
	return <main>Shedtally</main>;
}
