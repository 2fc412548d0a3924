/** A text that is no measure; the message says why and what to write instead. */
export class Unreadable extends Error {
	override readonly name = "Unreadable";
}
