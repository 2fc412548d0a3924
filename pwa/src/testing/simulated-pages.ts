/** What the open pages of one simulated phone share: its database, its locks, and what they say. */
import { IDBFactory } from "fake-indexeddb";

type Hear = (event: { data: unknown }) => void;
type Work = (lock: object | null) => Promise<void>;

/** A phone, apart from the pages that are open on it. */
export class Handset {
	readonly storage = new IDBFactory();
	readonly random: () => number;
	readonly pages = new Set<Page>();
	/** Locks by name, and whose they are; a page that is gone holds none. */
	readonly #held = new Map<string, Page>();

	constructor(random: () => number) {
		this.random = random;
	}

	/** As `navigator.locks`, as far as the app uses it. */
	locksOf(page: Page): object {
		const request = async (name: string, _options: object, work: Work): Promise<void> => {
			if (this.#held.get(name)?.alive) return work(null);
			this.#held.set(name, page);
			try {
				await work({ name });
			} finally {
				if (this.#held.get(name) === page) this.#held.delete(name);
			}
		};
		return { request };
	}

	tell(from: Page, message: unknown): void {
		for (const page of this.pages) {
			if (page !== from && page.alive) page.unheard.push(structuredClone(message));
		}
	}
}

/** An open page; it hears the others when it is next at work, so that a run can be repeated. */
export class Page {
	alive = true;
	unheard: unknown[] = [];
	readonly #ears: Hear[] = [];

	/** As `BroadcastChannel`, as far as the app uses it. */
	channelOn(handset: Handset): new () => object {
		const page = this;
		return class {
			postMessage(message: unknown): void {
				if (page.alive) handset.tell(page, message);
			}
			addEventListener(_kind: string, hear: Hear): void {
				page.#ears.push(hear);
			}
		};
	}

	listen(): void {
		for (const data of this.unheard.splice(0)) {
			if (this.alive) for (const hear of this.#ears) hear({ data });
		}
	}
}
