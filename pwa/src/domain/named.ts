/** What the server's rules know by a name for people and a name for programs. */
export interface Named {
	readonly id: string;
	readonly name: string;
}
