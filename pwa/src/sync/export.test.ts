import { beforeEach, describe, expect, it, vi } from "vitest";
import { FakeServer } from "../testing/fake-server.ts";
import { connect, itemEdit, pairedPhone, photoOf } from "../testing/phone.ts";

let server: FakeServer;

beforeEach(() => {
	vi.useRealTimers();
	server = new FakeServer();
	connect(server);
});

describe("the file of what is on this phone only", () => {
	it("holds every unsent and refused change and photograph, without asking the server", async () => {
		const { app, boat } = await pairedPhone(server);
		server.refuse = () => "not this";
		await app.keep([itemEdit(1, { name: "refused" })]);
		await app.syncNow();
		server.before = () => {
			throw new TypeError("no signal");
		};
		await app.keep([itemEdit(2, { name: "waits" })], [photoOf("one"), photoOf("two")]);
		const file = JSON.parse(await (await app.exportUnsent()).text());
		expect(file).toMatchObject({ format: "shedtally-unsent", version: 1, server: "server-1" });
		expect(file.changes).toMatchObject([
			{ boat, table: "item", set: { name: "refused" } },
			{ boat, table: "item", set: { name: "waits" } },
		]);
		const texts = file.photos.map(({ base64 }: { base64: string }) => atob(base64)).sort();
		expect(texts).toEqual(["photograph one", "photograph two"]);
	});
});
