/** What can stand on a scale, as a target of a weighing. */
export interface Subject {
	readonly table: "item" | "place" | "container";
	readonly key: string;
	readonly name: string;
}
