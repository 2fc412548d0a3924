import { beforeEach, describe, expect, it, vi } from "vitest";
import { FakeServer, page, problem } from "../testing/fake-server.ts";
import {
	type App,
	connect,
	itemEdit,
	newPhone,
	pairedPhone,
	photoOf,
	startApp,
	until,
} from "../testing/phone.ts";

let server: FakeServer;

beforeEach(() => {
	vi.useRealTimers();
	server = new FakeServer();
	connect(server);
});

const kindOf = (app: App): string | undefined => app.syncState.value.problem?.kind;

describe("a wrong answer loses nothing", () => {
	async function phoneWithWork(): Promise<App> {
		const { app } = await pairedPhone(server);
		await app.keep([itemEdit(1, { name: "Seacock" })], [photoOf("one")]);
		return app;
	}

	async function expectAllStillWaits(app: App): Promise<void> {
		expect(app.syncState.value).toMatchObject({ unsentChanges: 1, unsentPhotos: 1 });
		server.before = () => undefined;
		await app.syncNow();
		expect(app.syncState.value).toMatchObject({ unsentChanges: 0, unsentPhotos: 0, problem: null });
	}

	it.each([
		["a sign-in page of the Wi-Fi", () => page(), "not our server"],
		["a sign-in page with an error", () => page(403), "not our server"],
		[
			"JSON of something else",
			() => new Response('{"ok":1}', { headers: { "Content-Type": "application/json" } }),
			"not our server",
		],
		[
			"broken JSON",
			() => new Response('{"server":', { headers: { "Content-Type": "application/json" } }),
			"not our server",
		],
		[
			"null",
			() => new Response("null", { headers: { "Content-Type": "application/json" } }),
			"not our server",
		],
		["a proxy without its server", () => page(502), "server trouble"],
		["a busy server", () => problem(503, "server-busy"), "busy"],
		["a full server", () => problem(507, "disk-full"), "server full"],
		["a server that finds the app too old", () => problem(409, "client-too-old"), "reload"],
	])("%s", async (_name, answer, kind) => {
		const app = await phoneWithWork();
		server.before = answer;
		await app.syncNow();
		expect(kindOf(app)).toBe(kind);
		await expectAllStillWaits(app);
	});

	it("a page in place of each single answer", async () => {
		const app = await phoneWithWork();
		for (const path of [/session$/, /changes$/, /changes\?/, /photos/, /rules$/]) {
			server.before = (asked) => (path.test(asked.path) ? page() : undefined);
			await app.syncNow();
			expect(kindOf(app), String(path)).toBe("not our server");
		}
		server.before = () => undefined;
		await app.syncNow();
		expect(app.syncState.value).toMatchObject({ unsentChanges: 0, unsentPhotos: 0, problem: null });
	});

	it("another Shedtally server at the same address gets nothing", async () => {
		const app = await phoneWithWork();
		const asked = server.count("POST", /changes$/);
		server.id = "server-2";
		await app.syncNow();
		expect(kindOf(app)).toBe("other server");
		expect(server.count("POST", /changes$/)).toBe(asked);
		server.id = "server-1";
		await expectAllStillWaits(app);
	});

	it("a server that forgot the phone: work goes on, and is sent after pairing again", async () => {
		const app = await phoneWithWork();
		server.paired.clear();
		await app.syncNow();
		expect(kindOf(app)).toBe("pair again");
		expect(app.session.value.paired).toBe(false);
		await app.keep([itemEdit(2, { name: "Tank" })]);
		await app.recount();
		expect(app.syncState.value.unsentChanges).toBe(2);
		await app.pair("RIGHT", "Phone A");
		await app.syncNow();
		expect(app.syncState.value).toMatchObject({ unsentChanges: 0, unsentPhotos: 0, problem: null });
	});

	it("a refusal asked for before pairing again does not undo the pairing", async () => {
		const app = await phoneWithWork();
		server.paired.clear();
		let refuse = (): void => {};
		const late = new Promise<Response>((resolve) => {
			refuse = () => resolve(problem(401, "not-paired"));
		});
		server.before = ({ path }) => (path === "/api/session" ? late : undefined);
		const running = app.syncNow();
		await until(() => expect(server.asked.at(-1)?.path).toBe("/api/session"));
		await app.pair("RIGHT", "Phone A");
		server.before = () => undefined;
		refuse();
		await running;
		expect(app.session.value.paired).toBe(true);
		await app.syncNow();
		expect(app.syncState.value).toMatchObject({ unsentChanges: 0, unsentPhotos: 0, problem: null });
	});

	it("a wrong pairing code is named as the server names it", async () => {
		const app = await startApp(newPhone());
		await expect(app.pair("WRONG", "Phone A")).rejects.toMatchObject({
			problem: { kind: "refused", todo: "Ask for a new code." },
		});
		expect(app.session.value.paired).toBe(false);
	});

	it("a phone that was never paired says so", async () => {
		const app = await startApp(newPhone());
		await app.syncNow();
		expect(kindOf(app)).toBe("not paired");
	});
});
